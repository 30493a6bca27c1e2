"""The overflow is not caught while filling.

Why: Fuel on wheels, ground and skin is a slip, a stain and a fire on the next hot start.
Cure: Hang a bottle on the overflow while filling.

Bad::

    outlets: {vent: {bottle: no}}

Good::

    outlets: {vent: {bottle: yes}}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.ADVICE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for outlet in case.layout.outlets.values():
        what = f"Nothing catches the overflow at outlet {outlet.name}."
        fault = Found(outlet.name, what, field="bottle")
        yield from declared(outlet.bottle, f"outlets.{outlet.name}.bottle", fault)
