"""A battery lies too near a tank or a fuel line.

Why: A cell that vents burns for a minute at several hundred degrees.
Cure: Move the battery, or put a fireproof wall between it and the fuel.

Bad::

    zones:
      pump battery:
        kind: battery
        body: {box: {at: [300 mm, 0 mm, -22 mm], size: [100 mm, 40 mm, 20 mm]}}

Good::

    zones:
      pump battery:
        kind: battery
        body: {box: {at: [60 mm, 0 mm, -22 mm], size: [100 mm, 40 mm, 20 mm]}}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.checks.words import called
from plumbing.network.clearance import line_clearance, tank_clearance
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("15 mm", "length")


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    for zone in layout.zones.values():
        if zone.kind != "battery" or zone.shielded:
            continue
        allowed = zone.clearance or limit
        gaps = [
            ("route", name, line_clearance(layout, one, zone)) for name, one in layout.lines.items()
        ] + [
            ("shape", name, tank_clearance(one, zone, allowed))
            for name, one in layout.tanks.items()
        ]
        for field, name, gap in gaps:
            if gap < allowed:
                kind = "tank" if field == "shape" else "line"
                what = f"Battery {zone.name} lies {show(gap, 'length')} from {called(kind, name)}."
                figures = Figure(gap, "length"), Figure(allowed, "length")
                yield Found(name, what, *figures, field, (zone.name,))
