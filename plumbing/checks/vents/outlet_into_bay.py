"""An outlet ends inside the airframe.

Why: Fuel and vapour gather beside batteries and the hot engine instead of leaving.
Cure: Lead the outlet through the skin.

Bad::

    outlets: {vent: {into-bay: yes}}

Good::

    outlets: {vent: {into-bay: no}}
"""

from plumbing.checks.declared import denied
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.UNSAFE
SOURCE = "14 CFR 25.975 on fuel tank vents, used as an analogy"


def find(case: Case, limit: float) -> Says:
    for outlet in case.layout.outlets.values():
        fault = Found(
            outlet.name, f"Outlet {outlet.name} ends inside the airframe.", field="into_bay"
        )
        yield from denied(outlet.into_bay, f"outlets.{outlet.name}.into-bay", fault)
