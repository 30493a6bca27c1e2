"""Changes to the fuel system are not written down with their date.

Why: Test records belong to one state of the aircraft; without dates nobody knows which.
Cure: Keep a list of changes with dates, and repeat the tests a change touches.

Bad::

    papers: {changes-dated: no}

Good::

    papers: {changes-dated: yes}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.ADVICE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    fault = Found(
        "papers",
        "Changes to the fuel system are not written down with their date.",
        field="changes_dated",
    )
    yield from declared(case.layout.papers.changes_dated, "papers.changes-dated", fault)
