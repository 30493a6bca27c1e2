"""Passages take too much out of a former at one section.

Why: A former that carries wing, gear or engine loads buckles where its web is cut away.
Cure: Make the holes smaller, spread them, or glue a doubler round them.

Bad::

    formers: {F2: {passages: {lightening: {at: [0 mm, 20 mm], diameter: 110 mm}}}}

Good::

    formers: {F2: {passages: {lightening: {at: [0 mm, 20 mm], diameter: 30 mm}}}}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.network.former_holes import worst_section
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("25 %", "share")


def find(case: Case, limit: float) -> Says:
    for former in case.layout.formers.values():
        if not former.passages:
            continue
        if not former.outline:
            yield Lacking(f"formers.{former.name}.outline", former.name)
            continue
        removed, at = worst_section(former)
        if removed > limit:
            what = (
                f"At {at} the passages of {former.name} take {show(removed, 'share')} of its depth."
            )
            figures = Figure(removed, "share"), Figure(limit, "share")
            yield Found(former.name, what, *figures, field="passages")
