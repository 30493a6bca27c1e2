"""A filter on the suction side is screwed together on a seal.

Why: Under suction a screwed body draws air past its seal long before it would leak fuel.
Cure: Fit a one-piece filter, or move it to the pressure side and prove it under vacuum.

Bad::

    filters:
      screen: {screwed: yes}

Good::

    filters:
      screen: {screwed: no}
"""

from plumbing.checks.declared import denied
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.sides import filters_on
from plumbing.checks.words import subject

SEVERITY = Severity.FAULT
SOURCE = "model builders' column on filters; common practice"


def find(case: Case, limit: float) -> Says:
    for element in filters_on(case, "suction"):
        name = element.name
        fault = Found(
            name,
            f"{subject('filter', name)} on the suction side has a screwed body that can draw air.",
            field="screwed",
        )
        yield from denied(element.screwed, f"filters.{name}.screwed", fault)
