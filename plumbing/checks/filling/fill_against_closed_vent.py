"""Fuel is pushed in where no air can leave.

Why: The pressure rises to that of the filling pump at once; the hose flies off or a tank splits.
Cure: Open a way for the air before filling: take the plug out, open the valve.

Bad::

    outlets: {vent: {plug: {fitted-in-flight: yes}}}

Good::

    outlets: {vent: {plug: {fitted-in-flight: no}}}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.units import show

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
RESTS_ON = "filling"


def find(case: Case, limit: float) -> Says:
    for filled in case.filling.values():
        if filled.why_not:
            rises = ""
            if filled.closed_pressure is not None:
                rises = f"; the pressure rises to {show(filled.closed_pressure, 'pressure')}"
            what = f"Nothing can be filled at {filled.port}: {filled.why_not}{rises}."
            yield Found(filled.port, what)
