"""The system is put away with kerosene in it.

Why: Left for months, kerosene gums, grows microbes and hardens hose; dry pump gears rust.
Cure: Drain the tanks and run a little oil through the pump before storage.

Bad::

    papers: {storage-drained: no}

Good::

    papers: {storage-drained: yes}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.ADVICE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    fault = Found(
        "papers",
        "The system is not drained and its pump not oiled before storage.",
        field="storage_drained",
    )
    yield from declared(case.layout.papers.storage_drained, "papers.storage-drained", fault)
