"""A former goes through a tank, or the tank rubs on it.

Why: Either the former or the tank is cut when the two are put together.
Cure: Move the tank, or cut the former out for it and say so with `inside`.

Bad::

    formers: {F2: {station: 360 mm}}

Good::

    formers: {F2: {station: 360 mm}}
    tanks: {main: {inside: [F2]}}
"""

from plumbing.checks.kit import Case, Limit, Says, Severity
from plumbing.checks.spacing import too_near
from plumbing.network.space import formers, tanks

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("1 mm", "length")


def find(case: Case, limit: float) -> Says:
    for tank in tanks(case.layout):
        yield from too_near(case.layout, tank, formers(case.layout), limit)
