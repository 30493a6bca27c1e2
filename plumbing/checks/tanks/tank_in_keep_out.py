"""A tank stands in a zone that must stay free, or rubs on it.

Why: What is there already, such as a leg or a spar, does not make room for the tank.
Cure: Move the tank, or give it a shape that goes round the zone.

Bad::

    zones:
      nose leg:
        kind: keep-out
        body: {box: {at: [300 mm, 0 mm, -40 mm], size: [20 mm, 20 mm, 120 mm]}}

Good::

    zones:
      nose leg:
        kind: keep-out
        body: {box: {at: [100 mm, 0 mm, -40 mm], size: [20 mm, 20 mm, 120 mm]}}
"""

from plumbing.checks.kit import Case, Limit, Says, Severity
from plumbing.checks.spacing import too_near
from plumbing.network.space import tanks, zones

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("2 mm", "length")


def find(case: Case, limit: float) -> Says:
    for zone, thing in zones(case.layout, "keep-out"):
        for tank in tanks(case.layout):
            yield from too_near(case.layout, tank, [thing], zone.clearance or limit)
