"""A tube is pushed on a smooth end without barb, bead or collar.

Why: Nothing on a smooth end stops the tube from sliding off, even under a clamp.
Cure: Solder a collar or roll a bead on the end, or fit a barb.

Bad::

    joints:
      barb-4: {kind: plain}

Good::

    joints:
      barb-4: {kind: bead}
"""

from plumbing.checks.joints import kinds_used, unstated
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import on_lines, subject

SEVERITY = Severity.UNSAFE
SOURCE = "inland-boat safety scheme, hose connections, used as an analogy"


def find(case: Case, limit: float) -> Says:
    yield from unstated(case.layout)
    for joint, lines in kinds_used(case.layout):
        if joint.kind == "plain":
            yield Found(
                joint.name,
                f"{subject('joint', joint.name)} {on_lines(lines)} is a smooth end the tube can "
                "slide off.",
                field="kind",
                parts=lines,
            )
