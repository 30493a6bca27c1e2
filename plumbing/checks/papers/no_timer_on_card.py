"""The card names no usable fuel and no timer setting.

Why: Tanks empty by the clock, not by the eye; without a time the pilot flies until it is quiet.
Cure: Set the timer from the usable fuel less the reserve, and write both on the card.

Bad::

    stage: flown
    papers: {timer: null, usable-on-card: open}

Good::

    papers: {timer: 6 min, usable-on-card: done 2026-05-01 by builder}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    papers = case.layout.papers
    if papers.timer is None:
        yield Found("papers", "No timer setting is stated.", field="timer")
    fault = Found("papers", "The card does not name usable fuel and timer.", field="usable_on_card")
    yield from declared(papers.usable_on_card, "papers.usable-on-card", fault)
