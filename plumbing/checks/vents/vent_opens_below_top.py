"""A vent opens below the highest point of its tank.

Why: Air above the opening, or in a high pocket without one, cannot leave: the tank never fills,
and in flight the vent takes in fuel.
Cure: Bend the inner tube up to the highest point, turn the tank so that the port is at its top, or
give every high pocket a vent.

Bad::

    tanks: {main: {ports: {vent: {opens-at: [196 mm, 30 mm, 40 mm]}}}}

Good::

    tanks: {main: {ports: {vent: {opens-at: [196 mm, 30 mm, 59 mm]}}}}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.network.vent_ways import vent_ways
from plumbing.simulation.ground import breathers
from plumbing.simulation.levels import gas_kept
from plumbing.units import show, show_point

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("2 %", "share")


def find(case: Case, limit: float) -> Says:
    outlets: dict[str, list[str]] = {}
    for way in vent_ways(case.survey.network):
        outlets.setdefault(way.tank.name, []).append(way.outlet.name)
    for name, vented in outlets.items():
        tank = case.layout.tanks[name]
        ports = [tank.ports[port] for port in breathers(case.survey, name)]
        lost, top = gas_kept(tank, [port.opens_at or port.at for port in ports])
        if lost > limit:
            what = (
                f"Air under the roof of {name} at {show_point(top)} has no way out: "
                f"{show(lost, 'share')} of the tank stays full of it."
            )
            yield Found(
                name, what, Figure(lost, "share"), Figure(limit, "share"), "ports", tuple(vented)
            )
