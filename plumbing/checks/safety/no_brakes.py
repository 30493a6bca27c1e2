"""Neither brakes nor chocks hold the aircraft at idle.

Why: Residual thrust at idle rolls a light aircraft into people while hands are at the fuel.
Cure: Fit brakes that hold at idle, or use chocks until the pilot has the aircraft.

Bad::

    safety: {brakes: no}

Good::

    safety: {brakes: yes}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    fault = Found("safety", "Neither brakes nor chocks hold the aircraft at idle.", field="brakes")
    yield from declared(case.layout.safety.brakes, "safety.brakes", fault)
