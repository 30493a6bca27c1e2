"""A fuel thread is sealed with tape.

Why: Shreds of tape end in the pump, the filter and the engine's injectors.
Cure: Use a fitting with an O-ring or a taper seat, or a fuel-proof thread sealant.

Bad::

    joints:
      barb-4: {kind: threaded, tape: yes}

Good::

    joints:
      barb-4: {kind: threaded, tape: no}
"""

from plumbing.checks.declared import denied
from plumbing.checks.joints import kinds_used, unstated
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import called, on_lines

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    yield from unstated(case.layout)
    for joint, lines in kinds_used(case.layout):
        if joint.kind != "threaded":
            continue
        fault = Found(
            joint.name,
            f"The thread of {called('joint', joint.name)} {on_lines(lines)} is sealed with tape.",
            field="tape",
            parts=lines,
        )
        yield from denied(joint.tape, f"joints.{joint.name}.tape", fault)
