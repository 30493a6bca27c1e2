"""A tank lies too near a hot part.

Why: A wall softened by heat is the shortest way from a hot engine to a fire.
Cure: Move the tank or the part, or put a shield with air on both sides between them.

Bad::

    zones:
      engine case:
        shielded: no
        body: {cylinder: {at: [600 mm, 0 mm, 10 mm]}}

Good::

    zones:
      engine case:
        shielded: no
        body: {cylinder: {at: [1210 mm, 0 mm, 10 mm]}}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.network.clearance import tank_clearance
from plumbing.units import show

SEVERITY = Severity.UNSAFE
SOURCE = "common practice: half of it where air moves between them"
LIMIT = Limit("50 mm", "length")


def find(case: Case, limit: float) -> Says:
    for zone in case.layout.zones.values():
        if zone.kind not in ("hot", "exhaust") or zone.shielded:
            continue
        allowed = zone.clearance or (0.5 * limit if zone.airflow else limit)
        for tank in case.layout.tanks.values():
            gap = tank_clearance(tank, zone, allowed)
            if gap < allowed:
                what = (
                    f"Tank {tank.name} lies {show(gap, 'length')} from {zone.name}, "
                    f"not {show(allowed, 'length')}."
                )
                figures = Figure(gap, "length"), Figure(allowed, "length")
                yield Found(tank.name, what, *figures, "shape", (zone.name,))
