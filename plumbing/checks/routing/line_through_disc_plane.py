"""A line passes through the plane of a rotating disc.

Why: When a wheel bursts its pieces leave in this plane, and cut whatever lies in it.
Cure: Route the line ahead of or behind the plane, or shield it.

Bad::

    zones: {turbine wheel: {shielded: no, body: {disc: {at: [1000 mm, 0 mm, 10 mm]}}}}

Good::

    zones: {turbine wheel: {shielded: no, body: {disc: {at: [1230 mm, 0 mm, 10 mm]}}}}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.model.structure import Disc
from plumbing.network.space import gap_to_plane, line_thing
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("30 mm", "length")


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    for zone in layout.zones.values():
        if zone.shielded or not isinstance(zone.body, Disc):
            continue
        allowed = zone.clearance or limit
        for line in layout.lines.values():
            gap = gap_to_plane(line_thing(layout, line).body, zone.body)
            if gap < allowed:
                what = (
                    f"Line {line.name} lies {show(gap, 'length')} from the plane of {zone.name}, "
                    f"not {show(allowed, 'length')}."
                )
                figures = Figure(gap, "length"), Figure(allowed, "length")
                yield Found(line.name, what, *figures, "route", (zone.name,))
