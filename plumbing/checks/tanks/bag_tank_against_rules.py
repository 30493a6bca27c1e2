"""A bag serves as tank, which some national rules forbid.

Why: Plastic bags are banned as tanks by at least one national body; they chafe and seal their
own outlet.
Cure: Ask your national rules first; give the bag a smooth bay and a grid at its outlet.

Bad::

    tanks: {main: {wall: {kind: bag}}}

Good::

    tanks: {main: {wall: {kind: blow-moulded}}}
"""

from plumbing.checks.kit import Case, Found, Lacking, Says, Severity

SEVERITY = Severity.ADVICE
SOURCE = "Canadian association's turbine guidelines, as posted by a club; national rules decide"


def find(case: Case, limit: float) -> Says:
    for tank in case.layout.tanks.values():
        if tank.wall is None:
            yield Lacking(f"tanks.{tank.name}.wall", tank.name)
        elif tank.wall.kind == "bag":
            yield Found(tank.name, f"Tank {tank.name} is a bag.", field="wall")
