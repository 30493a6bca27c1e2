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
from plumbing.checks.passing import too_near

SEVERITY = Severity.FAULT
SOURCE = "common practice; AC 43.13-1B asks at least 2 in of full-size aircraft"
LIMIT = Limit("15 mm", "length")


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    for zone in layout.zones.values():
        if zone.kind != "wiring" or zone.shielded:
            continue
        allowed = zone.clearance or limit
        for line in layout.lines.values():
            yield from too_near(layout, line, zone, allowed)
