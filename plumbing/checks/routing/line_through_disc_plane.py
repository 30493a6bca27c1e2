"""A line passes through the plane of a rotating disc.

Why: When a wheel bursts its pieces leave in this plane, and cut whatever lies in it.
Cure: Route the line ahead of or behind the plane, or shield it.

Bad::

    zones: {turbine wheel: {shielded: no, body: {disc: {at: [1000 mm, 0 mm, 10 mm]}}}}

Good::

    zones: {turbine wheel: {shielded: no, body: {disc: {at: [1230 mm, 0 mm, 10 mm]}}}}
"""

from plumbing.checks.kit import Case, Limit, Says, Severity
from plumbing.checks.spacing import too_near
from plumbing.network.space import disc_planes, lines

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("30 mm", "length")


def find(case: Case, limit: float) -> Says:
    for zone, plane in disc_planes(case.layout):
        for _, line in lines(case.layout):
            yield from too_near(case.layout, line, [plane], zone.clearance or limit)
