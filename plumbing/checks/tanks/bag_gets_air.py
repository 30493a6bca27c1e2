"""Air can get into a bag that is to fold as it empties.

Why: A bag needs no vent: limp film passes the pressure outside on to the fuel. With a vent, or
behind a tank that breathes, it takes in air instead of folding, and gives it to the pump.
Cure: Close the vent of the bag, or put the bag first in the chain, with no tank that breathes
behind it.

Bad::

    tanks: {main: {wall: {kind: bag}}}

Good::

    tanks: {main: {wall: {kind: blow-moulded}}}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import listed

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for tank in case.layout.tanks.values():
        if not tank.is_bag or tank.name in case.survey.bags:
            continue
        way = case.survey.air_path(tank.name)
        if way is not None:
            through = f" through {listed(way.through)}" if way.through else ""
            yield Found(
                tank.name,
                f"Air gets into bag {tank.name} from {way.opening}{through}; it is computed as a "
                "rigid tank.",
                field="wall",
                parts=(way.opening, *way.through),
            )
