"""Too many tubes share a passage.

Why: Tubes that touch in a hole rub through each other.
Cure: Give each tube a hole of its own, or a clip that keeps them apart.

Bad::

    lines: {header to tee: {through: [F2.feed]}}

Good::

    lines: {header to tee: {through: []}}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.network.former_holes import threaded
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("60 %", "share")


def find(case: Case, limit: float) -> Says:
    for former, passage, lines in threaded(case.layout):
        if len(lines) < 2:
            continue
        clear = max(passage.diameter - 2.0 * (passage.grommet or 0.0), 1e-6)
        filled = sum(case.layout.tube_of(line).outside_diameter ** 2 for line in lines) / clear**2
        if filled > limit:
            what = (
                f"{len(lines)} tubes fill {show(filled, 'share')} of passage {passage.name} "
                f"in {former.name}."
            )
            figures = Figure(filled, "share"), Figure(limit, "share")
            names = tuple(line.name for line in lines)
            yield Found(former.name, what, *figures, "passages", names)
