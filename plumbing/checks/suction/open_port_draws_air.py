"""A port of a tee, filter, valve, pump or connector has no line.

Why: On the suction side an open port draws air; on the pressure side it sprays fuel.
Cure: Join the missing line, or replace the part by one without the port.

Bad::

    lines:
      fill: null

Good::

    lines:
      fill: {from: fill.tube, to: fill tee.branch}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.sides import side_of

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    closing = {opening.name for opening in case.survey.openings if not opening.is_open}
    for end in case.survey.dead_ends:
        side = side_of(case, end.part)
        if not side or end.name in closing:
            continue
        does = "draw air" if side == "suction" else "spray fuel"
        yield Found(end.part, f"Port {end.name} on the {side} side has no line and will {does}.")
