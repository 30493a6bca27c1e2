"""The edge of a passage is bare.

Why: A bare edge of ply, carbon or metal saws through soft tube in a season.
Cure: Fit a grommet or split tube, or round and seal the edge.

Bad::

    formers: {F2: {passages: {feed: {edge: bare}}}}

Good::

    formers: {F2: {passages: {feed: {edge: grommet}}}}
"""

from plumbing.checks.kit import Case, Found, Lacking, Says, Severity
from plumbing.network.former_holes import passages

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
