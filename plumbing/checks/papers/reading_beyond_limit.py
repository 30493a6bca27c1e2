"""A reading on the bench does not meet its limit.

Why: What was measured outweighs what was computed: the aircraft is not as drawn, or the drawing
passes by too little.
Cure: Find the cause with `plumbing asbuilt`, mend it, measure again, and write down the new
reading.

Bad::

    measured:
      gauge: {what: vacuum-loss, part: pump, pressure: 9 kPa}

Good::

    measured:
      gauge: {what: vacuum-loss, part: pump, pressure: 1 kPa}
"""

from plumbing.checks.evidence import beyond
from plumbing.checks.kit import Case, Figure, Found, Says, Severity
from plumbing.model.measured import MEASURES
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice; limits of the checks in force"


def find(case: Case, limit: float) -> Says:
    for one, mark in beyond(case):
        kind = MEASURES[one.what]
        value: float = getattr(one, kind)
        bound = mark.most if mark.most is not None and value > mark.most else mark.least
        where = f" at {one.part}" if one.part else ""
        what = f"Measured {one.what}{where} is {show(value, kind)}; the limit is {mark.words()}."
        allowed = None if bound is None else Figure(bound, kind)
        yield Found(one.name, what, Figure(value, kind), allowed)
