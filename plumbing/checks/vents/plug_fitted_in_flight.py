"""An outlet is plugged in flight.

Why: Nothing replaces the fuel drawn: the tank folds, or the pump pulls air out of the fuel and
stops.
Cure: Leave the outlet open in flight.

Bad::

    outlets: {vent: {plug: {fitted-in-flight: yes}}}

Good::

    outlets: {vent: {plug: {fitted-in-flight: no}}}
"""

from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for outlet in case.layout.outlets.values():
        if outlet.plug is not None and outlet.plug.fitted_in_flight:
            yield Found(outlet.name, f"Outlet {outlet.name} is plugged in flight.", field="plug")
