"""A line goes through a former where no passage is drawn.

Why: A hole that is not on the drawing is drilled by eye, too near an edge and without a
grommet.
Cure: Draw the passage and name it on the line, or lead the route round the former.

Bad::

    lines: {feed: {through: null}}

Good::

    lines: {feed: {through: [F2.feed]}}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.network.former_holes import crossings, within
from plumbing.network.lengths import route_points

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    for line in layout.lines.values():
        named = {name.partition(".")[0] for name in line.through}
        points = route_points(layout, line)
        for former in layout.formers.values():
            if former.name in named or not former.outline:
                continue
            if any(within(former, point) for point in crossings(points, former)):
                what = f"Line {line.name} goes through {former.name} and names no passage there."
                yield Found(line.name, what, field="through", parts=(former.name,))
