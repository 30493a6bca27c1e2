"""A passage stands too near an edge, another hole or a place not to be drilled.

Why: A former breaks from its holes: too little wood beside one is where it starts.
Cure: Move the hole: twice its diameter from the edge, three times from the next one.

Bad::

    formers: {F2: {passages: {feed: {at: [88 mm, 110 mm]}}}}

Good::

    formers: {F2: {passages: {feed: {at: [0 mm, 110 mm]}}}}
"""

import math

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.network.former_holes import box_distance, edge_distance, passages
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("2", "ratio")


PITCH = 1.5  # the pitch asked for, over the edge distance asked for


def find(case: Case, limit: float) -> Says:
    for former, passage in passages(case.layout):
        name = f"Passage {passage.name} in {former.name}"
        if former.outline:
            gap, allowed = edge_distance(former, passage), limit * passage.diameter
            if gap < allowed:
                what = f"{name} stands {show(gap, 'length')} from the edge."
                figures = Figure(gap, "length"), Figure(allowed, "length")
                yield Found(former.name, what, *figures, field="passages")
        else:
            yield Lacking(f"formers.{former.name}.outline", former.name)
        for other in former.passages.values():
            allowed = PITCH * limit * max(other.diameter, passage.diameter)
            pitch = math.dist(other.at, passage.at)
            if other.name > passage.name and pitch < allowed:
                what = f"{name} stands {show(pitch, 'length')} from passage {other.name}."
                figures = Figure(pitch, "length"), Figure(allowed, "length")
                yield Found(former.name, what, *figures, field="passages")
        if any(box_distance(box, passage) < 0.5 * passage.diameter for box in former.keep_clear):
            yield Found(former.name, f"{name} is drilled where it must not be.", field="passages")
