"""A tube goes through a former at too flat an angle.

Why: A slanting tube bears on two edges of the hole, and a round grommet does not seat on it.
Cure: Turn the route so that it meets the wall squarely, or drill along the tube and fit a liner.

Bad::

    lines: {feed: {route: [[455 mm, 0 mm, 60 mm], [465 mm, 0 mm, 110 mm]]}}

Good::

    lines: {feed: {route: [[300 mm, 0 mm, 110 mm], [520 mm, 0 mm, 110 mm]]}}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.checks.words import subject
from plumbing.network.former_holes import nearest, piercings, threaded
from plumbing.units import show

SEVERITY = Severity.ADVICE
SOURCE = "common practice"
LIMIT = Limit("60 deg", "angle")  # between tube and wall; 90 deg is square


def find(case: Case, limit: float) -> Says:
    for former, passage, lines in threaded(case.layout):
        for line in lines:
            pierced = nearest(piercings(case.layout, line, former), passage.at)
            if pierced is not None and pierced.angle < limit:
                yield Found(
                    line.name,
                    f"{subject('line', line.name)} goes through {former.name} at "
                    f"{show(pierced.angle, 'angle', 2)} to the wall; "
                    f"{show(limit, 'angle', 2)} is the least.",
                    Figure(pierced.angle, "angle"),
                    Figure(limit, "angle"),
                    "route",
                    (former.name,),
                )
