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
      barb-4: {kind: push-in}
    lines:
      feed: {tube: nylon 6x4}
"""

from plumbing import units
from plumbing.checks.joints import End, ends
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.materials import is_metal, material
from plumbing.checks.words import called, subject

SEVERITY = Severity.FAULT
SOURCE = "a valve maker's tube manual: 93 Shore A for urethane; builders' posts: 60 at least"
LIMIT = Limit("93 Shore A", "hardness")

_RUBBER = 80.0  # Shore A below which it is rubber, which no source would use


def find(case: Case, limit: float) -> Says:
    for end in ends(case.layout):
        if isinstance(end, Lacking):
            yield end
        elif end.joint.kind == "push-in":
            yield from _grip(end, limit)


def _grip(end: End, limit: float) -> Says:
    if is_metal(end.tube.material):
        return
    known, hardness = material(end.tube.material), end.tube.hardness
    if hardness is None and known is not None:
        hardness = known.hardness
    if hardness is None:
        yield Lacking(f"tubes.{end.tube.name}.hardness", end.line.name)
    elif hardness < limit:
        yield Found(
            end.line.name,
            f"{subject('tube', end.tube.name)} of {units.show(hardness, 'hardness')} sits in "
            f"{called('push-in joint', end.joint.name)} at {end.port}; "
            f"{units.show(limit, 'hardness')} is wanted.",
            Figure(hardness, "hardness"),
            Figure(limit, "hardness"),
            field="tube",
            parts=(end.joint.name,),
            severity=None if hardness < _RUBBER else Severity.ADVICE,
        )
