"""The bench tests are not recorded and signed.

Why: A test nobody wrote down cannot be shown to an inspector or compared with the next one.
Cure: Write down instrument, limit, reading and date of each bench test, and sign it.

Bad::

    papers: {tests-recorded: no}

Good::

    papers: {tests-recorded: yes}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    fault = Found("papers", "The bench tests are not recorded and signed.", field="tests_recorded")
    yield from declared(case.layout.papers.tests_recorded, "papers.tests-recorded", fault)
