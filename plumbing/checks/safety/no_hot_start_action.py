"""The card does not say what to do when the engine starts hot.

Why: A flooded engine burns out of its tail pipe; relighting it or waiting makes it worse.
Cure: Put on the card: fuel off, starter or air on, extinguisher ready, never relight a wet
engine.

Bad::

    safety: {hot-start-on-card: no}

Good::

    safety: {hot-start-on-card: yes}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    fault = Found(
        "safety",
        "The card does not name the action after a hot or flooded start.",
        field="hot_start_on_card",
    )
    yield from declared(case.layout.safety.hot_start_on_card, "safety.hot-start-on-card", fault)
