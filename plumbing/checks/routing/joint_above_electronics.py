"""A joint stands above electronics or a battery.

Why: Every joint weeps one day, and what drips on a receiver or a battery ends the flight.
Cure: Move the joint, or put a tray or a shield over what is below.

Bad::

    zones:
      receiver: {shielded: no, body: {box: {at: [660 mm, 0 mm, -60 mm]}}}

Good::

    zones:
      receiver: {shielded: no, body: {box: {at: [50 mm, 0 mm, 40 mm]}}}
"""

from plumbing.checks.kit import Case, Found, Limit, Says, Severity
from plumbing.geometry.bodies import tube
from plumbing.network.lengths import route_points
from plumbing.network.room import zone_body
from plumbing.network.space import clearance

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
LIMIT = Limit("10 mm", "length")


FALL = 3.0  # m, further than any airframe is high


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    for zone in layout.zones.values():
        if zone.kind not in ("electronics", "battery") or zone.shielded:
            continue
        for line in layout.lines.values():
            points = route_points(layout, line)
            ends = ("from_", line.from_, points[0]), ("to", line.to, points[-1])
            for field, end, (x, y, z) in ends:
                if clearance(tube([(x, y, z), (x, y, z - FALL)], 0.0), zone_body(zone)) < limit:
                    what = f"The joint of line {line.name} at {end} stands above {zone.name}."
                    part = end.partition(".")[0]
                    yield Found(line.name, what, field=field, parts=(part, zone.name))
