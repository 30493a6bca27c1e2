"""A line can be caught by something that moves.

Why: A control rod, a retracting leg or the intake pulls a tube off or saws through it.
Cure: Clip the line so that it stays clear over the whole travel.

Bad::

    zones:
      elevator rod:
        kind: moving
        body: {run: {points: [[100 mm, 0 mm, 115 mm], [900 mm, 0 mm, 115 mm]], diameter: 6 mm}}

Good::

    zones:
      elevator rod:
        kind: moving
        body: {run: {points: [[100 mm, -60 mm, 115 mm], [900 mm, -60 mm, 115 mm]], diameter: 6 mm}}
"""

from plumbing.checks.kit import Case, Limit, Says, Severity
from plumbing.checks.spacing import too_near
from plumbing.network.space import lines, zones

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
LIMIT = Limit("10 mm", "length")


def find(case: Case, limit: float) -> Says:
    for zone, thing in zones(case.layout, "moving"):
        for _, line in lines(case.layout):
            yield from too_near(case.layout, line, [thing], zone.clearance or limit)
