"""A tube of one size meets a joint made for another.

Why: Such a joint holds neither fuel nor air; it is usually a slip in the parts list.
Cure: Choose the joint made for this tube, or a reducer between the two sizes.

Bad::

    joints:
      barb-4: {outside-diameter: 7.5 mm}

Good::

    joints:
      barb-4: {outside-diameter: 4.6 mm}
"""

from plumbing import units
from plumbing.checks.joints import Pairing, pairings, unstated
from plumbing.checks.kit import Case, Figure, Found, Lacking, Says, Severity
from plumbing.checks.words import called, on_lines, subject

SEVERITY = Severity.FAULT
SOURCE = "a valve maker's tube manual (tolerances of push-in tube) and common practice"

_TOLERANCE = 0.2e-3  # of a tube's outer diameter in a push-in or compression joint [m]
_NO_FIT = 0.60  # of the barb's diameter: the tube cannot be pushed on


def find(case: Case, limit: float) -> Says:
    yield from unstated(case.layout)
    for pair in pairings(case.layout):
        if pair.joint.kind != "threaded":
            yield from _size(pair)


def _size(pair: Pairing) -> Says:
    own = pair.joint.outside_diameter
    if own is None:
        yield Lacking(f"joints.{pair.joint.name}.outside-diameter", pair.joint.name)
        return
    if pair.joint.kind in ("push-in", "compression"):
        size, word = pair.tube.outside_diameter, "outer diameter"
        fits = abs(size - own) <= _TOLERANCE
    else:
        size, word = pair.tube.inside_diameter, "bore"
        fits = _NO_FIT <= size / own < 1.0
    if not fits:
        yield Found(
            pair.lines[0],
            f"{subject('tube', pair.tube.name)} with {units.show(size, 'length')} {word} does not "
            f"fit {called('joint', pair.joint.name)} of {units.show(own, 'length')}, "
            f"{on_lines(pair.lines)}.",
            Figure(size, "length"),
            Figure(own, "length"),
            parts=(*pair.lines[1:], pair.joint.name),
        )
