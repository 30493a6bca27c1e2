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
from plumbing.checks.joints import End, ends
from plumbing.checks.kit import Case, Figure, Found, Lacking, Says, Severity
from plumbing.checks.words import subject

SEVERITY = Severity.FAULT
SOURCE = "a valve maker's tube manual (tolerances of push-in tube) and common practice"

_TOLERANCE = 0.2e-3  # of a tube's outer diameter in a push-in or compression joint [m]
_NO_FIT = 0.60  # of the barb's diameter: the tube cannot be pushed on


def find(case: Case, limit: float) -> Says:
    for end in ends(case.layout):
        if isinstance(end, Lacking):
            yield end
        elif end.joint.kind != "threaded":
            yield from _size(end)


def _size(end: End) -> Says:
    own = end.joint.outside_diameter
    if own is None:
        yield Lacking(f"joints.{end.joint.name}.outside-diameter", end.joint.name)
        return
    if end.joint.kind in ("push-in", "compression"):
        size, word = end.tube.outside_diameter, "outer diameter"
        fits = abs(size - own) <= _TOLERANCE
    else:
        size, word = end.tube.inside_diameter, "bore"
        fits = _NO_FIT <= size / own < 1.0
    if not fits:
        yield Found(
            end.line.name,
            f"{subject('tube', end.tube.name)} with {units.show(size, 'length')} {word} does not "
            f"fit joint {end.joint.name} of {units.show(own, 'length')} at {end.port}.",
            Figure(size, "length"),
            Figure(own, "length"),
            parts=(end.joint.name,),
        )
