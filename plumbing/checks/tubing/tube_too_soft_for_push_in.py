"""A tube is too soft for a push-in fitting.

Why: The teeth of the fitting cannot hold soft tube, and its O-ring dents it: it leaks and slips.
Cure: Use a barb with a wire lock, or hard urethane or nylon tube in the fitting.

Bad::

    joints:
      barb-4: {kind: push-in}
    lines:
      feed: {tube: fluoroelastomer 6.4x4}

Good::

    joints:
      barb-4: {kind: push-in, outside-diameter: 6 mm}
    lines:
      feed: {tube: nylon 6x4}
"""

from plumbing import units
from plumbing.checks.joints import Pairing, pairings, unstated
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.materials import is_metal, material
from plumbing.checks.words import called, on_lines, subject

SEVERITY = Severity.FAULT
SOURCE = "a valve maker's tube manual: 93 Shore A for urethane; builders' posts: 60 at least"
LIMIT = Limit("93 Shore A", "hardness")

_RUBBER = 80.0  # Shore A below which it is rubber, which no source would use


def find(case: Case, limit: float) -> Says:
    yield from unstated(case.layout)
    for pair in pairings(case.layout):
        if pair.joint.kind == "push-in" and not is_metal(pair.tube.material):
            yield from _grip(pair, limit)


def _grip(pair: Pairing, limit: float) -> Says:
    known, hardness = material(pair.tube.material), pair.tube.hardness
    if hardness is None and known is not None:
        hardness = known.hardness
    if hardness is None:
        yield Lacking(f"tubes.{pair.tube.name}.hardness", pair.lines[0])
    elif hardness < limit:
        yield Found(
            pair.lines[0],
            f"{subject('tube', pair.tube.name)} of {units.show(hardness, 'hardness')} sits in "
            f"{called('push-in joint', pair.joint.name)} {on_lines(pair.lines)}; "
            f"{units.show(limit, 'hardness')} is wanted.",
            Figure(hardness, "hardness"),
            Figure(limit, "hardness"),
            field="tube",
            parts=(*pair.lines[1:], pair.joint.name),
            severity=None if hardness < _RUBBER else Severity.ADVICE,
        )
