"""A printed tank is not sealed inside, or not pressure-tested.

Why: Printed walls weep between the layers at any pressure, mostly weeks after the first fill.
Cure: Coat it inside with resin, then test it under water before fitting.

Bad::

    tanks: {main: {wall: {kind: printed, sealed-inside: no, leak-tested: no}}}

Good::

    tanks: {main: {wall: {kind: printed, sealed-inside: yes, leak-tested: yes}}}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Lacking, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for tank in case.layout.tanks.values():
        if tank.wall is None:
            yield Lacking(f"tanks.{tank.name}.wall", tank.name)
        elif tank.wall.kind == "printed":
            where = f"tanks.{tank.name}.wall"
            raw = Found(tank.name, f"Printed tank {tank.name} is not sealed inside.", field="wall")
            untested = Found(
                tank.name, f"Printed tank {tank.name} is not pressure-tested.", field="wall"
            )
            yield from declared(tank.wall.sealed_inside, f"{where}.sealed-inside", raw)
            yield from declared(tank.wall.leak_tested, f"{where}.leak-tested", untested)
