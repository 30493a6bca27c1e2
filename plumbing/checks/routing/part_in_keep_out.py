"""A part of the fuel system stands in a zone to be kept free.

Why: What is kept free there is needed: a spar, a mould, a hand.
Cure: Move the part out of the zone.

Bad::

    zones:
      thing:
        kind: keep-out
        body: {box: {at: [790 mm, 0 mm, 0 mm], size: [20 mm, 20 mm, 20 mm]}}

Good::

    zones:
      thing:
        kind: keep-out
        body: {box: {at: [790 mm, 0 mm, 30 mm], size: [20 mm, 20 mm, 20 mm]}}
"""

from plumbing.checks.kit import Case, Limit, Says, Severity
from plumbing.checks.spacing import too_near
from plumbing.network.space import parts, zones

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("2 mm", "length")


def find(case: Case, limit: float) -> Says:
    for zone, thing in zones(case.layout, "keep-out"):
        for part in parts(case.layout):
            yield from too_near(case.layout, part, [thing], zone.clearance or limit)
