"""A tank can be struck by something that moves.

Why: A leg or a rod that strikes a tank at every flight wears through its wall.
Cure: Move the tank clear of the whole travel.

Bad::

    zones:
      nose leg:
        kind: moving
        body: {box: {at: [300 mm, 0 mm, -40 mm], size: [20 mm, 20 mm, 120 mm]}}

Good::

    zones:
      nose leg:
        kind: moving
        body: {box: {at: [100 mm, 0 mm, -40 mm], size: [20 mm, 20 mm, 120 mm]}}
"""

from plumbing.checks.kit import Case, Limit, Says, Severity
from plumbing.checks.spacing import too_near
from plumbing.network.space import tanks, zones

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
LIMIT = Limit("10 mm", "length")


def find(case: Case, limit: float) -> Says:
    for zone, thing in zones(case.layout, "moving"):
        for tank in tanks(case.layout):
            yield from too_near(case.layout, tank, [thing], zone.clearance or limit)
