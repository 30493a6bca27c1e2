"""The stated capacity of a tank is not that of its drawn solid.

Why: Timer, balance and filling are worked out from the capacity: one of the two numbers is
wrong.
Cure: Measure the tank with a measuring jug, then correct the drawing or the number.

Bad::

    tanks: {main: {capacity: 100 ml}}

Good::

    tanks: {main: {capacity: null}}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.model.meshes import tank_mesh
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("3 %", "share")


def find(case: Case, limit: float) -> Says:
    for tank in case.layout.tanks.values():
        if tank.capacity is None:
            continue
        drawn = (1.0 - tank.displaced) * tank_mesh(tank).volume
        off = tank.capacity / drawn - 1.0
        if abs(off) > limit:
            what = (
                f"Tank {tank.name} is stated to hold {show(tank.capacity, 'volume')}; its solid "
                f"holds {show(drawn, 'volume')}."
            )
            figures = Figure(abs(off), "share"), Figure(limit, "share")
            yield Found(tank.name, what, *figures, field="capacity")
