"""A tube is pushed on a barb and nothing holds it there.

Why: Warm soft tube creeps; under suction the joint leaks air, under pressure it is blown off.
Cure: Wire every barb with a double wrap, or use a clip or spring, at both ends.

Bad::

    joints:
      barb-4: {lock: none}

Good::

    joints:
      barb-4: {lock: wire}
"""

from plumbing.checks.joints import kinds_used, unstated
from plumbing.checks.kit import Case, Found, Lacking, Says, Severity
from plumbing.checks.words import called, on_lines

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"

_NEEDS_LOCK = ("barb", "bead", "plain")


def find(case: Case, limit: float) -> Says:
    yield from unstated(case.layout)
    for joint, lines in kinds_used(case.layout):
        if joint.kind not in _NEEDS_LOCK:
            continue
        if joint.lock is None:
            yield Lacking(f"joints.{joint.name}.lock", joint.name)
        elif joint.lock == "none":
            yield Found(
                joint.name,
                f"Nothing holds the tube on {called('joint', joint.name)} {on_lines(lines)}.",
                field="lock",
                parts=lines,
            )
