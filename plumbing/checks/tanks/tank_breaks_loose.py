"""The fixing does not hold the full tank at the load factors flown.

Why: A full tank weighs kilograms; at ten g it is a hammer that tears lines off and shifts the
balance.
Cure: Hold the tank with straps or saddles that spread the load, good for ten g full.

Bad::

    tanks: {main: {fixing: {holds: 4 g, straps: no}}}

Good::

    tanks:
      main: {fixing: {holds: 12 g, straps: yes}}
      header: {fixing: {holds: 12 g, straps: yes}}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.physics.constants import GRAVITY
from plumbing.simulation.balance import fuel_mass
from plumbing.units import show

SEVERITY = Severity.UNSAFE
SOURCE = "14 CFR 25.967 on tank support, used as an analogy; the number is common practice"
LIMIT = Limit("10 g", "load factor")


def find(case: Case, limit: float) -> Says:
    needed = max(limit, case.layout.aircraft.load_factors.positive)
    for tank in case.layout.tanks.values():
        holds = tank.fixing.holds
        if holds is None:
            yield Lacking(f"tanks.{tank.name}.fixing.holds", tank.name)
        elif holds < needed:
            pull = GRAVITY * (fuel_mass(case.layout, tank) + (tank.empty_mass or 0.0))
            what = (
                f"The fixing of {tank.name} holds only {show(holds, 'load factor')}, "
                f"{show(holds * pull, 'force')}; full it pulls with {show(needed * pull, 'force')} "
                f"at {show(needed, 'load factor')}."
            )
            figures = Figure(holds, "load factor"), Figure(needed, "load factor")
            yield Found(tank.name, what, *figures, field="fixing")
        loose = Found(
            tank.name, f"Nothing spreads the load of {tank.name} over its wall.", field="fixing"
        )
        yield from declared(tank.fixing.straps, f"tanks.{tank.name}.fixing.straps", loose)
