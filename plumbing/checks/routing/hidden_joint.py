"""A line has a joint that cannot be seen.

Why: A joint nobody can see is a joint nobody checks, and on the suction side it leaks air, not
fuel.
Cure: Run the tube in one piece through hidden places, or cut a hatch over the joint.

Bad::

    lines: {feed: {hidden-joint: yes}}

Good::

    lines: {feed: {hidden-joint: no}}
"""

from plumbing.checks.declared import denied
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for line in case.layout.lines.values():
        what = f"Line {line.name} has a joint that cannot be seen."
        fault = Found(line.name, what, field="hidden_joint")
        yield from denied(line.hidden_joint, f"lines.{line.name}.hidden-joint", fault)
