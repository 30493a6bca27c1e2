"""A clunk is too heavy or too sharp for a composite wall.

Why: A heavy clunk swings like a hammer at every landing and stars a thin laminate from inside.
Cure: Use a light clunk with rounded edges.

Bad::

    tanks:
      main:
        wall: {kind: composite}
        ports: {feed: {pickup: {kind: clunk, mass: 30 g, rounded: no}}}

Good::

    tanks:
      main:
        wall: {kind: composite}
        ports: {feed: {pickup: {kind: clunk, mass: 12 g, rounded: yes}}}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.pickups import clunks
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("15 g", "mass")


def find(case: Case, limit: float) -> Says:
    for tank, port, pickup in clunks(case.layout):
        if tank.wall is None or tank.wall.kind != "composite":
            continue
        where = f"tanks.{tank.name}.ports.{port.name}.pickup"
        if pickup.mass is None:
            yield Lacking(f"{where}.mass", tank.name)
        elif pickup.mass > limit:
            what = f"The clunk of {tank.name} weighs {show(pickup.mass, 'mass')}."
            yield Found(
                tank.name, what, Figure(pickup.mass, "mass"), Figure(limit, "mass"), "ports"
            )
        sharp = Found(tank.name, f"The clunk of {tank.name} has sharp edges.", field="ports")
        yield from declared(pickup.rounded, f"{where}.rounded", sharp)
