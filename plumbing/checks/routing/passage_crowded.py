"""Too many tubes share a passage.

Why: Tubes that touch in a hole rub through each other.
Cure: Give each tube a hole of its own, or a clip that keeps them apart.

Bad::

    formers:
      f1:
        station: 300 mm
        thickness: 3 mm
        material: plywood
        outline: [[-100 mm, -100 mm], [100 mm, -100 mm], [100 mm, 100 mm], [-100 mm, 100 mm]]
        passages: {p1: {at: [0 mm, 0 mm], diameter: 10 mm}}
    lines: {feed: {through: [f1.p1]}, vent: {through: [f1.p1]}}

Good::

    formers:
      f1:
        station: 300 mm
        thickness: 3 mm
        material: plywood
        outline: [[-100 mm, -100 mm], [100 mm, -100 mm], [100 mm, 100 mm], [-100 mm, 100 mm]]
        passages: {p1: {at: [0 mm, 0 mm], diameter: 20 mm}}
    lines: {feed: {through: [f1.p1]}, vent: {through: [f1.p1]}}
"""

from plumbing.checks.drilled import threaded
from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
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
