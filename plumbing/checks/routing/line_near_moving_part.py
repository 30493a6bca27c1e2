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
from plumbing.checks.passing import too_near

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
LIMIT = Limit("10 mm", "length")


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    for zone in layout.zones.values():
        if zone.kind != "moving":
            continue
        allowed = zone.clearance or limit
        for line in layout.lines.values():
            yield from too_near(layout, line, zone, allowed)
