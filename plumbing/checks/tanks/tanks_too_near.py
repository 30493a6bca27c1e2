"""Two tanks touch, or one stands in the other.

Why: Two tanks cannot have one place; where they touch, each saws through the other's wall.
Cure: Move one of them; if one stands in the other on purpose, say so with `inside`.

Bad::

    tanks:
      header:
        shape: {cylinder: {at: [300 mm, 0 mm, 10 mm]}}
        ports: {in: {at: [300 mm, 0 mm, 40 mm]}, out: {at: [322 mm, 0 mm, -16 mm]}}

Good::

    tanks: {header: {inside: []}}
"""

from itertools import combinations

from plumbing.checks.kit import Case, Limit, Says, Severity
from plumbing.checks.spacing import too_near
from plumbing.network.space import tanks

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("1 mm", "length")


def find(case: Case, limit: float) -> Says:
    for one, other in combinations(tanks(case.layout), 2):
        yield from too_near(case.layout, other, [one], limit)
