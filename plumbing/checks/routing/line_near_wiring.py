"""A line runs too near wiring.

Why: A chafed wire lights what a chafed tube drips; fuel creeps along a loom into its
connectors.
Cure: Keep fuel below wires and apart from them, and never tie the two together.

Bad::

    zones:
      loom: {body: {run: {points: [[40 mm, 0 mm, 120 mm], [1000 mm, 0 mm, 120 mm]]}}}

Good::

    zones:
      loom: {body: {run: {points: [[40 mm, -80 mm, 125 mm], [1000 mm, -80 mm, 125 mm]]}}}
"""

from plumbing.checks.kit import Case, Limit, Says, Severity
from plumbing.checks.spacing import least, too_near
from plumbing.network.space import lines, zones

SEVERITY = Severity.FAULT
SOURCE = "common practice; AC 43.13-1B asks at least 2 in of full-size aircraft"
LIMIT = Limit("15 mm", "length")


def find(case: Case, limit: float) -> Says:
    for zone, thing in zones(case.layout, "wiring"):
        for _, line in lines(case.layout):
            yield from too_near(case.layout, line, [thing], least(zone, limit))
