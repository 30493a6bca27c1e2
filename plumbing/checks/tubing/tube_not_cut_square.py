"""A tube is not cut square.

Why: A slanting end seats on one side only and leaks air or fuel on the other.
Cure: Cut again with a tube cutter, not with side cutters or a saw.

Bad::

    joints:
      barb-4: {square-cut: no}

Good::

    joints:
      barb-4: {square-cut: yes}
"""

from plumbing.checks.declared import declared
from plumbing.checks.joints import kinds_used, unstated
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import called, on_lines

SEVERITY = Severity.ADVICE
SOURCE = "a valve maker's tube manual and common practice"


def find(case: Case, limit: float) -> Says:
    yield from unstated(case.layout)
    for joint, lines in kinds_used(case.layout):
        fault = Found(
            joint.name,
            f"The tube at {called('joint', joint.name)} {on_lines(lines)} is not cut square.",
            field="square_cut",
            parts=lines,
        )
        yield from declared(joint.square_cut, f"joints.{joint.name}.square-cut", fault)
