"""A line runs too near a hot part.

Why: Urethane tube softens from about 60 degrees; beside the engine case it lets go with the
engine running.
Cure: Route it away, put a fire sleeve on it, or shield the hot part and let air through.

Bad::

    zones:
      engine case:
        shielded: no
        body: {cylinder: {at: [900 mm, 0 mm, 40 mm]}}

Good::

    zones:
      engine case:
        shielded: no
        body: {cylinder: {at: [1210 mm, 0 mm, 10 mm]}}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.network.clearance import line_clearance
from plumbing.units import show

SEVERITY = Severity.UNSAFE
SOURCE = "common practice: half of it where air moves between them or a fire sleeve is fitted"
LIMIT = Limit("50 mm", "length")


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    for zone in layout.zones.values():
        if zone.kind not in ("hot", "exhaust") or zone.shielded:
            continue
        for line in layout.lines.values():
            cooled = zone.airflow or line.sleeve == "fire"
            allowed = zone.clearance or (0.5 * limit if cooled else limit)
            gap = line_clearance(layout, line, zone)
            if gap < allowed:
                what = (
                    f"Line {line.name} passes {zone.name} at {show(gap, 'length')}, "
                    f"not {show(allowed, 'length')}."
                )
                figures = Figure(gap, "length"), Figure(allowed, "length")
                yield Found(line.name, what, *figures, "route", (zone.name,))
