"""A line goes through a zone that must stay free, or rubs on it.

Why: A hole drilled through a spar or a mould weakens what carries the load.
Cure: Lead the route round the zone.

Bad::

    zones:
      spar:
        kind: keep-out
        body: {box: {at: [480 mm, 0 mm, 110 mm], size: [12 mm, 300 mm, 60 mm]}}

Good::

    zones:
      spar:
        kind: keep-out
        body: {box: {at: [480 mm, 0 mm, 180 mm], size: [12 mm, 300 mm, 60 mm]}}
"""

from plumbing.checks.kit import Case, Limit, Says, Severity
from plumbing.checks.spacing import too_near
from plumbing.network.space import lines, zones

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("2 mm", "length")


def find(case: Case, limit: float) -> Says:
    for zone, thing in zones(case.layout, "keep-out"):
        for _, line in lines(case.layout):
            yield from too_near(case.layout, line, [thing], zone.clearance or limit)
