"""A vent opens below the highest point of its tank.

Why: Air above the opening cannot leave: the tank never fills, and in flight the vent takes in
fuel.
Cure: Bend the inner tube up to the highest point, or turn the tank so that the port is at its
top.

Bad::

    tanks: {main: {ports: {vent: {opens-at: [196 mm, 30 mm, 40 mm]}}}}

Good::

    tanks: {main: {ports: {vent: {opens-at: [196 mm, 30 mm, 59 mm]}}}}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.network.vent_ways import vent_ways
from plumbing.simulation.levels import height, share_above, span
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("2 %", "share")


def find(case: Case, limit: float) -> Says:
    for way in vent_ways(case.survey.network):
        opens = way.port.opens_at or way.port.at
        lost = share_above(way.tank, height(opens))
        if lost > limit:
            what = (
                f"The vent of {way.tank.name} opens "
                f"{show(span(way.tank)[1] - opens[2], 'length')} below its highest point; "
                f"{show(lost, 'share')} of the tank stays full of air."
            )
            figures = Figure(lost, "share"), Figure(limit, "share")
            yield Found(way.tank.name, what, *figures, "ports", (way.outlet.name,))
