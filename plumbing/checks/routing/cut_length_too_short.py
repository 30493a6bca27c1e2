"""A tube is cut shorter than its route needs.

Why: A tube that is short is stretched on, pulls at its joints and kinks at the first bend.
Cure: Cut to the routed length and 5 % more, plus what goes on the joints.

Bad::

    lines: {feed: {cut-length: 250 mm}}

Good::

    lines: {feed: {cut-length: 375 mm}}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.network.lengths import routed_length
from plumbing.units import show

SEVERITY = Severity.ADVICE
SOURCE = "common practice"
LIMIT = Limit("5 %", "share")


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    for line in layout.lines.values():
        if line.cut_length is None:
            continue
        way = routed_length(layout, line)
        needed = way * (1.0 + limit)
        if line.cut_length < needed:
            what = (
                f"Line {line.name} is cut to {show(line.cut_length, 'length')}; its route of "
                f"{show(way, 'length')} needs {show(needed, 'length')}."
            )
            severity = Severity.FAULT if line.cut_length < way else None
            figures = Figure(line.cut_length, "length"), Figure(needed, "length")
            yield Found(line.name, what, *figures, "cut_length", (), severity)
