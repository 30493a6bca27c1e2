"""Air stays in a tank when it is filled, standing as it stands on the ground.

Why: What looks full is not: the fuel planned for the flight is not on board, and the air moves
to where the centre of gravity does not want it.
Cure: Let the vent open at the highest point in the filling attitude, or prop the aircraft up.

Bad::

    tanks: {main: {ports: {vent: {opens-at: [196 mm, 30 mm, 45 mm]}}}}

Good::

    tanks: {main: {ports: {vent: {opens-at: [196 mm, 30 mm, 59 mm]}}}}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice"
RESTS_ON = "filling"
LIMIT = Limit("5 %", "share")


def find(case: Case, limit: float) -> Says:
    for filled in case.filling.values():
        for tank in filled.tanks.values():
            drawn = case.layout.tanks[tank.tank]
            capacity = tank.holds + tank.trapped
            share = tank.trapped / capacity if capacity > 0.0 else 0.0
            allowed = 1.0 - drawn.fill + limit
            if drawn.role == "main" and share > allowed:
                what = (
                    f"Filled at {filled.port}, {show(tank.trapped, 'volume')} of air stays in "
                    f"{tank.tank}, {show(share, 'share')} of it."
                )
                figures = Figure(share, "share"), Figure(allowed, "share")
                yield Found(tank.tank, what, *figures, "ports", (filled.port,))
