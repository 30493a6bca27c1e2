"""The national category and scheme the aircraft is flown under are not stated.

Why: Mass, thrust and papers allowed differ by country; above a limit the build must be
registered first.
Cure: Look up the rules of your country before building, and write category and scheme down.

Bad::

    aircraft: {category: null}

Good::

    aircraft: {category: "over 20 kg, registered before building"}
"""

from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "national rules of model flying"


def find(case: Case, limit: float) -> Says:
    if not (case.layout.aircraft.category or "").strip():
        yield Found("aircraft", "No national category or scheme is stated.", field="category")
