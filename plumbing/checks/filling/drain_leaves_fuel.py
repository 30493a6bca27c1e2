"""Fuel stays on board when the tanks are drained.

Why: What cannot be drained goes along in the car, gums in the pickups and spills at the bench.
Cure: Put a drain at the lowest point of each tank, or tilt the aircraft so that fuel runs to the
pickups while it is drawn back (drain-pitch, drain-roll).

Bad::

    filling: {drain-pitch: 0 deg}

Good::

    filling: {drain-pitch: 10 deg}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.units import show

SEVERITY = Severity.ADVICE
SOURCE = "common practice; 14 CFR 23.999 asks for a drain that empties the system, as an analogy"
RESTS_ON = "draining"
LIMIT = Limit("3 %", "share")
_KNOWN = 0.05  # of what stays: 3 mm of a tank's place in some 60 mm of its height


def find(case: Case, limit: float) -> Says:
    drained = tuple(case.draining.values())
    if not drained:
        return
    board = drained[0].books.start
    left = {name: min(one.books.left[name] for one in drained) for name in case.layout.tanks}
    share = sum(left.values()) / board if board > 0.0 else 0.0
    if share > limit:
        most = max(left, key=lambda name: left[name])
        what = (
            f"Drained at {', '.join(case.draining)}, {show(sum(left.values()), 'volume')} stay on "
            f"board, most of it ({show(left[most], 'volume')}) in {most}."
        )
        low, high = ((1.0 + side * _KNOWN) * share for side in (-1.0, 1.0))
        yield Found(most, what, Figure(share, "share", low, high), Figure(limit, "share"))
