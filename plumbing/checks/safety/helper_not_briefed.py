"""The helper does not know the fuel shut-off and the extinguisher.

Why: The pilot holds the transmitter; the seconds that matter are in the hands of the helper.
Cure: Show the helper the shut-off, the direction it closes and where to aim the extinguisher.

Bad::

    safety: {helper-briefed: no}

Good::

    safety: {helper-briefed: yes}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    fault = Found(
        "safety",
        "The helper has not been shown the fuel shut-off and the extinguisher.",
        field="helper_briefed",
    )
    yield from declared(case.layout.safety.helper_briefed, "safety.helper-briefed", fault)
