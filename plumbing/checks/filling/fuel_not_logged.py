"""The litres filled and drained are not written down.

Why: The refill is the only cheap measure of burn, of a leak and of a tank left behind.
Cure: Write down litres in and litres out at every flight.

Bad::

    filling: {logged: no}

Good::

    filling: {logged: yes}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.ADVICE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    fault = Found("filling", "The litres filled and drained are not written down.", field="logged")
    yield from declared(case.layout.filling.logged, "filling.logged", fault)
