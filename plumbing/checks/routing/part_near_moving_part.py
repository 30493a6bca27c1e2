"""A part of the fuel system stands too near to something that moves.

Why: A lever, a leg or a pushrod that meets a pump or a filter jams, or tears a tube off it.
Cure: Move the part; keep 10 mm from what moves, at the ends of its travel too.

Bad::

    zones:
      thing:
        kind: moving
        body: {box: {at: [790 mm, 0 mm, 9 mm], size: [20 mm, 20 mm, 20 mm]}}

Good::

    zones:
      thing:
        kind: moving
        body: {box: {at: [790 mm, 0 mm, 30 mm], size: [20 mm, 20 mm, 20 mm]}}
"""

from plumbing.checks.kit import Case, Limit, Says, Severity
from plumbing.checks.spacing import too_near
from plumbing.network.space import parts, zones

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
LIMIT = Limit("10 mm", "length")


def find(case: Case, limit: float) -> Says:
    for zone, thing in zones(case.layout, "moving"):
        for part in parts(case.layout):
            yield from too_near(case.layout, part, [thing], zone.clearance or limit)
