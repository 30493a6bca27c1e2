"""The edge of a passage is bare.

Why: A bare edge of ply, carbon or metal saws through soft tube in a season.
Cure: Fit a grommet or split tube, or round and seal the edge.

Bad::

    formers:
      f1:
        station: 300 mm
        thickness: 3 mm
        material: plywood
        outline: [[-100 mm, -100 mm], [100 mm, -100 mm], [100 mm, 100 mm], [-100 mm, 100 mm]]
        passages: {p1: {at: [0 mm, 0 mm], diameter: 8 mm, edge: bare}}

Good::

    formers:
      f1:
        station: 300 mm
        thickness: 3 mm
        material: plywood
        outline: [[-100 mm, -100 mm], [100 mm, -100 mm], [100 mm, 100 mm], [-100 mm, 100 mm]]
        passages: {p1: {at: [0 mm, 0 mm], diameter: 10 mm, edge: grommet}}
"""

from plumbing.checks.drilled import passages
from plumbing.checks.kit import Case, Found, Lacking, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for former, passage in passages(case.layout):
        if passage.edge is None:
            missing = f"formers.{former.name}.passages.{passage.name}.edge"
            yield Lacking(missing, former.name)
        elif passage.edge == "bare":
            what = f"The edge of passage {passage.name} in {former.name} is bare {former.material}."
            yield Found(former.name, what, field="passages")
