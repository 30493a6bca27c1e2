"""A metal tube was not deburred and cleaned.

Why: A burr cuts the hose pushed over it, and swarf in the tube goes to pump and injectors.
Cure: Round the ends inside and out, then flush the tube before it is fitted.

Bad::

    joints:
      barb-4: {deburred: no}
    lines:
      feed: {tube: aluminium 6x4.4}

Good::

    joints:
      barb-4: {deburred: yes}
    lines:
      feed: {tube: aluminium 6x4.4}
"""

from plumbing.checks.declared import declared
from plumbing.checks.joints import kinds_used, stated, unstated
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.materials import is_metal
from plumbing.checks.words import called, on_lines

SEVERITY = Severity.ADVICE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    metal = {end.line.name: end.line for end in stated(case.layout) if is_metal(end.tube.material)}
    yield from unstated(case.layout)
    for joint, lines in kinds_used(case.layout, metal.values()):
        fault = Found(
            joint.name,
            f"The metal tube at {called('joint', joint.name)} {on_lines(lines)} was not deburred "
            "and cleaned.",
            field="deburred",
            parts=lines,
        )
        yield from declared(joint.deburred, f"joints.{joint.name}.deburred", fault)
