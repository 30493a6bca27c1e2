"""The tanks are pumped out with the vent closed.

Why: The filling pump draws far harder than the engine and folds a closed tank.
Cure: Open the vent before pumping out, and say so on the card.

Bad::

    filling: {drained-with-vent-open: no}

Good::

    filling: {drained-with-vent-open: yes}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    fault = Found(
        "filling",
        "The vent is not open while the tanks are pumped out.",
        field="drained_with_vent_open",
    )
    yield from declared(
        case.layout.filling.drained_with_vent_open, "filling.drained-with-vent-open", fault
    )
