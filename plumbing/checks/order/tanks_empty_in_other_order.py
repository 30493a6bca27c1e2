"""The tanks run dry in another order than meant.

Why: The balance was worked out for one order; in the air the other one decides where the fuel is.
Cure: Vent only the tank meant to empty first, chain the others, and test the order on the bench.
Over: chained-pair

Bad::

    feed-order: [starboard, port, header]

Good::

    feed-order: [port, starboard, header]
"""

from itertools import pairwise

from plumbing.checks.kit import Case, Found, Lacking, Says, Severity
from plumbing.results import got
from plumbing.units import clock

SEVERITY = Severity.FAULT
SOURCE = "computed flight, flown on until the engines stop"

_TOGETHER = 1.0  # [s] tanks that run dry within this are taken to run dry together


def find(case: Case, limit: float) -> Says:
    flight = got(case.flight)
    meant = case.layout.feed_order
    if not meant:
        yield Lacking("feed-order")
        return
    empty = dict(flight.order)
    known = [name for name in meant if name in empty]
    for first, then in pairwise(known):
        if any({first, then} <= {*group} for group in case.layout.together):
            continue  # what one of them keeps is `fuel-stranded`
        if empty[first] > empty[then] + _TOGETHER:
            yield Found(
                first,
                f"Meant to empty before {then}, {first} runs dry after {clock(empty[first])} and "
                f"{then} after {clock(empty[then])}.",
                parts=(then,),
            )
