"""A battery lies too near a tank, a fuel line or an outlet.

Why: A cell that vents burns for a minute at several hundred degrees. An outlet lets fuel out while
filling and in turns, and needs 50 mm.
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

from plumbing.checks.kit import Case, Limit, Says, Severity
from plumbing.checks.spacing import least, splashed, too_near
from plumbing.network.space import fuel, zones

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("15 mm", "length")


def find(case: Case, limit: float) -> Says:
    for zone, thing in zones(case.layout, "battery"):
        for one in fuel(case.layout):
            apart = least(zone, splashed(one, limit))
            yield from too_near(case.layout, one, [thing], apart, moves=zone.name)
