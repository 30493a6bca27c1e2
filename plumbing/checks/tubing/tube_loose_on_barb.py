"""A tube does not fit its barb: too loose to grip, or so tight that it splits.

Why: The tube seals only by being stretched; too little leaks air, too much cracks it in time.
Cure: Pair tube and barb so that the tube's bore is 75 to 95 % of the barb's diameter.

Bad::

    joints:
      barb-4: {kind: barb, outside-diameter: 4.1 mm}

Good::

    joints:
      barb-4: {kind: barb, outside-diameter: 4.6 mm}
"""

from plumbing import units
from plumbing.checks.joints import Pairing, pairings, unstated
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.words import called, on_lines, subject

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
LIMIT = Limit("95 %", "share")

_TOO_TIGHT = 0.75  # of the barb's diameter
_NO_FIT = 0.60  # below this and above 1 it is another size: `tube-size-mismatch`


def find(case: Case, limit: float) -> Says:
    yield from unstated(case.layout)
    for pair in pairings(case.layout):
        if pair.joint.kind == "barb":
            yield from _fit(pair, limit)


def _fit(pair: Pairing, limit: float) -> Says:
    barb = pair.joint.outside_diameter
    if barb is None:
        yield Lacking(f"joints.{pair.joint.name}.outside-diameter", pair.joint.name)
        return
    share = pair.tube.inside_diameter / barb
    loose = limit < share < 1.0
    if not loose and not _NO_FIT <= share < _TOO_TIGHT:
        return
    word, bound = ("loose", limit) if loose else ("tight", _TOO_TIGHT)
    bore, over = units.show(pair.tube.inside_diameter, "length"), units.show(barb, "length")
    yield Found(
        pair.lines[0],
        f"{subject('tube', pair.tube.name)} of {bore} bore sits too {word} on "
        f"{called('joint', pair.joint.name)} of {over}, {on_lines(pair.lines)}.",
        Figure(share, "share"),
        Figure(bound, "share"),
        parts=(*pair.lines[1:], pair.joint.name),
    )
