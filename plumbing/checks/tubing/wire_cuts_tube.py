"""A wire lock lies bare on the tube.

Why: Bare wire and its cut ends notch soft tube, which then splits beside the joint.
Cure: Use 0.5 mm wire over a short sleeve, twisted evenly, the ends turned in.

Bad::

    joints:
      barb-4: {lock: wire, wire-sleeved: no}

Good::

    joints:
      barb-4: {lock: wire, wire-sleeved: yes}
"""

from plumbing.checks.declared import declared
from plumbing.checks.joints import kinds_used, unstated
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import called, on_lines

SEVERITY = Severity.ADVICE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    yield from unstated(case.layout)
    for joint, lines in kinds_used(case.layout):
        if joint.lock != "wire":
            continue
        fault = Found(
            joint.name,
            f"The wire on {called('joint', joint.name)} {on_lines(lines)} lies bare on the tube.",
            field="wire_sleeved",
            parts=lines,
        )
        yield from declared(joint.wire_sleeved, f"joints.{joint.name}.wire-sleeved", fault)
