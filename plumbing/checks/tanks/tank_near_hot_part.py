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

from plumbing.checks.kit import Case, Limit, Says, Severity
from plumbing.checks.spacing import least, too_near
from plumbing.network.space import tanks, zones

SEVERITY = Severity.UNSAFE
SOURCE = "common practice: half of it where air moves between them"
LIMIT = Limit("50 mm", "length")


def find(case: Case, limit: float) -> Says:
    for zone, thing in zones(case.layout, "hot", "exhaust"):
        allowed = least(zone, 0.5 * limit if zone.airflow else limit)
        for tank in tanks(case.layout):
            yield from too_near(case.layout, tank, [thing], allowed)
