"""A tank lies in the plane of a rotating disc.

Why: When a wheel bursts its pieces leave in this plane, through whatever holds fuel there.
Cure: Move the tank 30 mm out of the plane, or shield it.

Bad::

    zones: {turbine wheel: {shielded: no, body: {disc: {at: [310 mm, 0 mm, 10 mm]}}}}

Good::

    zones: {turbine wheel: {shielded: no, body: {disc: {at: [1230 mm, 0 mm, 10 mm]}}}}
"""

from plumbing.checks.kit import Case, Limit, Says, Severity
from plumbing.checks.spacing import too_near
from plumbing.network.space import disc_planes, tanks

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
LIMIT = Limit("30 mm", "length")


def find(case: Case, limit: float) -> Says:
    for zone, plane in disc_planes(case.layout):
        for tank in tanks(case.layout):
            yield from too_near(case.layout, tank, [plane], zone.clearance or limit)
