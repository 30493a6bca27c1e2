"""Parked, fuel stands above an engine with nothing shut between them.

Why: Fuel leaks through a stopped gear pump and fills the engine; the next start is a fire.
Cure: Close a shut-off after every use, or park so that the engine stands above the fuel.

Bad::

    parking: {on its wheels: {shut-off-closed: no}}
    valves: {fuel valve: {unpowered: open}}

Good::

    parking: {on its wheels: {shut-off-closed: yes}}
    valves: {fuel valve: {unpowered: closed}}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.simulation.levels import down_at, height, surface
from plumbing.simulation.parking_engines import open_to
from plumbing.units import show

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
LIMIT = Limit("0 mm", "length")


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    if not layout.parking:
        yield Lacking("parking")
    for parking in layout.parking.values():
        down = down_at(parking.pitch, parking.roll)
        for engine in layout.engines.values():
            tanks = open_to(case.layout, case.survey, engine.name, parking)
            if not tanks or parking.fuel <= 0.0:
                continue
            levels = {
                name: surface(layout.tanks[name], parking.fuel * layout.tanks[name].fill, down)
                for name in tanks
            }
            highest = max(levels, key=lambda name: levels[name])
            head = levels[highest] - height(engine.at, down)
            if head > limit:
                what = (
                    f"Parking {parking.name}: the fuel in {highest} stands "
                    f"{show(head, 'length')} above {engine.name} and no valve is shut."
                )
                figures = Figure(head, "length"), Figure(limit, "length")
                yield Found(parking.name, what, *figures, parts=(engine.name, highest))
