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

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.checks.where import line_clearance
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "AC 43.13-1B on wiring and fuel lines, used as an analogy; the distance is common practice"
LIMIT = Limit("15 mm", "length")


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    for zone in layout.zones.values():
        if zone.kind != "wiring" or zone.shielded:
            continue
        allowed = zone.clearance or limit
        for line in layout.lines.values():
            gap = line_clearance(layout, line, zone)
            if gap < allowed:
                what = f"Line {line.name} passes {zone.name} at {show(gap, 'length')}."
                figures = Figure(gap, "length"), Figure(allowed, "length")
                yield Found(line.name, what, *figures, "route", (zone.name,))
