"""Electronics lie in or too near a tank, a fuel line or an outlet.

Why: Fuel creeps along wires into a receiver, and a spark beside a leak starts a fire. An outlet
lets fuel out while filling and in turns, and needs 50 mm.
Cure: Move the electronics, or put a tight box round them.

Bad::

    zones:
      receiver:
        shielded: no
        body: {box: {at: [300 mm, 0 mm, 10 mm], size: [60 mm, 40 mm, 20 mm]}}

Good::

    zones:
      receiver:
        shielded: no
        body: {box: {at: [50 mm, 0 mm, 40 mm], size: [60 mm, 40 mm, 20 mm]}}
"""

from plumbing.checks.kit import Case, Limit, Says, Severity
from plumbing.checks.spacing import least, splashed, too_near
from plumbing.network.space import fuel, zones

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("10 mm", "length")


def find(case: Case, limit: float) -> Says:
    for zone, thing in zones(case.layout, "electronics"):
        for one in fuel(case.layout):
            apart = least(zone, splashed(one, limit))
            yield from too_near(case.layout, one, [thing], apart, moves=zone.name)
