"""The wall of a tank is of a material kerosene attacks.

Why: It swells, crazes or goes soft over weeks, and then it lets go with full tanks.
Cure: Use polyethylene, nylon, metal, or laminate of epoxy or vinyl ester.

Bad::

    tanks: {main: {wall: {kind: printed, material: polystyrene}}}

Good::

    tanks: {main: {wall: {kind: blow-moulded, material: polyethylene}}}
"""

from plumbing.checks.kit import Case, Found, Lacking, Says, Severity
from plumbing.checks.materials import material

SEVERITY = Severity.FAULT
SOURCE = "table of materials; most of it is common practice"


def find(case: Case, limit: float) -> Says:
    for tank in case.layout.tanks.values():
        name = tank.wall.material if tank.wall is not None else None
        known = material(name)
        if name is None:
            yield Lacking(f"tanks.{tank.name}.wall.material", tank.name)
        elif known is None:
            yield Lacking(f"tanks.{tank.name}.wall.material ({name} is not known)", tank.name)
        elif known.kerosene in ("poor", "unsuitable"):
            what = f"The wall of {tank.name} is of {name}, which kerosene attacks."
            yield Found(tank.name, what, field="wall")
        elif known.kerosene == "fair":
            what = f"The wall of {tank.name} is of {name}, which ages in kerosene: test a sample."
            yield Found(tank.name, what, field="wall", severity=Severity.ADVICE)
