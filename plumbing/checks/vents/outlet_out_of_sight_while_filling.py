"""The person filling cannot see the outlet.

Why: Full is when fuel without bubbles leaves the outlet; under a low belly nobody sees it, and
the pump runs on.
Cure: Lead the outlet to where it is seen, or hang a clear bottle on it.

Bad::

    outlets: {vent: {seen-while-filling: no}}

Good::

    outlets: {vent: {seen-while-filling: yes}}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.ADVICE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for outlet in case.layout.outlets.values():
        what = f"Outlet {outlet.name} cannot be seen while filling."
        fault = Found(outlet.name, what, field="seen_while_filling")
        missing = f"outlets.{outlet.name}.seen-while-filling"
        yield from declared(outlet.seen_while_filling, missing, fault)
