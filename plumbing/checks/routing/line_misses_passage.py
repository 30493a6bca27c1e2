"""A line names a passage its route does not go through.

Why: The hole is drilled where the drawing says, and the tube then pulls round its edge.
Cure: Put a route point at the passage, or move the passage.

Bad::

    formers: {F2: {passages: {feed: {at: [40 mm, 110 mm]}}}}

Good::

    formers: {F2: {passages: {feed: {at: [0 mm, 110 mm]}}}}
"""

import math

from plumbing.checks.kit import Case, Figure, Found, Says, Severity
from plumbing.network.former_holes import at_words, nearest, piercings
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    for line in layout.lines.values():
        for name in line.through:
            former_name, _, passage_name = name.partition(".")
            former = layout.formers[former_name]
            passage = former.passages[passage_name]
            met = nearest(piercings(layout, line, former), passage.at)
            allowed = 0.5 * passage.diameter
            if met is None:
                what = f"Line {line.name} does not reach {former.name}, whose passage it names."
                yield Found(line.name, what, field="through", parts=(former.name,))
                continue
            miss = math.dist(met.at, passage.at)
            if miss > allowed:
                what = (
                    f"Line {line.name} misses passage {name} by {show(miss - allowed, 'length')}: "
                    f"it crosses {former.name} at {at_words(former, met.at)}."
                )
                figures = Figure(miss, "length"), Figure(allowed, "length")
                yield Found(line.name, what, *figures, "through", (former.name,))
