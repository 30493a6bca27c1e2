"""A filter hangs on its hoses.

Why: Its mass shakes the joints loose, and a filled filter weighs more than it looks.
Cure: Hold the filter with a clip of its own.

Bad::

    filters:
      screen: {clipped: no}

Good::

    filters:
      screen: {clipped: yes}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import subject

SEVERITY = Severity.ADVICE
SOURCE = "14 CFR 25.997 (weight not on the lines), used as an analogy"


def find(case: Case, limit: float) -> Says:
    for name, element in case.layout.filters.items():
        fault = Found(
            name, f"{subject('filter', name)} is held by its hoses only.", field="clipped"
        )
        yield from declared(element.clipped, f"filters.{name}.clipped", fault)
