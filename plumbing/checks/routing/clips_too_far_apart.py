"""The clips of a line are too far apart.

Why: A tube that swings chafes, works its joints loose and sags into a trap for fuel or air.
Cure: Clip small tube every 100 to 150 mm, and within 20 mm of each joint.

Bad::

    lines: {feed: {clips: 400 mm}}

Good::

    lines: {feed: {clips: 120 mm}}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.network.lengths import routed_length
from plumbing.units import show

SEVERITY = Severity.ADVICE
SOURCE = "common practice"
LIMIT = Limit("150 mm", "length")


def find(case: Case, limit: float) -> Says:
    for line in case.layout.lines.values():
        if routed_length(case.layout, line) <= limit:
            continue
        if line.clips is None:
            yield Lacking(f"lines.{line.name}.clips", line.name)
        elif line.clips > limit:
            what = f"Line {line.name} is clipped only every {show(line.clips, 'length')}."
            figures = Figure(line.clips, "length"), Figure(limit, "length")
            yield Found(line.name, what, *figures, field="clips")
