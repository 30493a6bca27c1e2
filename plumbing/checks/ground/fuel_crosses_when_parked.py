"""Left standing, fuel crosses from one tank to another.

Why: The aircraft takes off with one wing heavy, or the lower tank spills while the upper one
looks half used.
Cure: Park level, close a valve in the line that joins the tanks, or chain them.
Over: teed-pair

Bad::

    tanks: {port: {fill: 60 %}, starboard: {fill: 60 %}}
    parking: {one wheel low: {roll: 8 deg, fuel: 100 %, duration: 1 h}}

Good::

    parking: {one wheel low: {roll: 0 deg, fuel: 100 %, duration: 1 h}}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.results import got
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "14 CFR 23.957 on tanks that are joined, from memory, used as an analogy"
RESTS_ON = "parking"
LIMIT = Limit("5 %", "share")


def find(case: Case, limit: float) -> Says:
    for parked in got(case.parking).attitudes.values():
        gains = {name: gain for name, gain in parked.moved.items() if gain > 0.0}
        for name, gain in gains.items():
            share = gain / parked.on_board if parked.on_board > 0.0 else 0.0
            if share > limit:
                minutes = parked.duration / 60.0
                what = (
                    f"Left as {parked.name} for {minutes:.3g} min, {show(gain, 'volume', 2)} cross "
                    f"over into {name}."
                )
                figures = Figure(share, "share"), Figure(limit, "share")
                others = tuple(one for one in parked.moved if one != name)
                yield Found(parked.name, what, *figures, parts=(name, *others))
