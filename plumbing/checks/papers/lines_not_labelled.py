"""The tubes do not carry the line numbers of the drawing.

Why: Years later a tube is put back on the wrong port, and the tanks feed in the wrong order.
Cure: Put the number of the schedule on both ends of every tube.

Bad::

    papers: {lines-labelled: no}

Good::

    papers: {lines-labelled: yes}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.ADVICE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    fault = Found(
        "papers", "The tubes do not carry the line numbers of the drawing.", field="lines_labelled"
    )
    yield from declared(case.layout.papers.lines_labelled, "papers.lines-labelled", fault)
