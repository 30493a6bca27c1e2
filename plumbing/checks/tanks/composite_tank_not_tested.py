"""A composite tank is not sealed inside, not tested, or its ports stand on bare laminate.

Why: Thin laminate has pinholes, and a port on bare skin works loose and peels it.
Cure: Build it with a resin-rich inner ply and bonded flanges, and test it under water.

Bad::

    tanks: {main: {wall: {kind: composite, leak-tested: no}}}

Good::

    tanks:
      main: {wall: {kind: composite, sealed-inside: yes, leak-tested: yes, bonded-flanges: yes}}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Lacking, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "common practice"


WANTED = {
    "sealed_inside": "is not sealed inside",
    "leak_tested": "is not pressure-tested",
    "bonded_flanges": "has its ports on bare laminate",
}


def find(case: Case, limit: float) -> Says:
    for tank in case.layout.tanks.values():
        wall = tank.wall
        if wall is None:
            yield Lacking(f"tanks.{tank.name}.wall", tank.name)
        elif wall.kind == "composite":
            for name, lack in WANTED.items():
                missing = f"tanks.{tank.name}.wall.{name.replace('_', '-')}"
                fault = Found(tank.name, f"Composite tank {tank.name} {lack}.", field="wall")
                yield from declared(getattr(wall, name), missing, fault)
