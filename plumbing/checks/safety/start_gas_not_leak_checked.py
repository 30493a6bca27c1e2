"""The line of pressurised start gas has not been leak-checked.

Why: Start gas leaking beside fuel lines fills the bay, and the glow plug lights it.
Cure: Check the start gas line with leak spray under pressure, and close the bottle after the
start.

Bad::

    safety: {start-gas: yes, start-gas-leak-checked: no}

Good::

    safety: {start-gas: yes, start-gas-leak-checked: yes}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Lacking, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    safety = case.layout.safety
    if safety.start_gas is None:
        yield Lacking("safety.start-gas", "safety")
    elif safety.start_gas:
        fault = Found(
            "safety", "The start gas line is not leak-checked.", field="start_gas_leak_checked"
        )
        missing = "safety.start-gas-leak-checked"
        yield from declared(safety.start_gas_leak_checked, missing, fault)
