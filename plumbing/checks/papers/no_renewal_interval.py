"""Soft hose has no renewal interval, or one too long.

Why: Clunk hose and soft joints harden and rot where nobody looks; only a date renews them in
time.
Cure: Renew soft hose every two seasons at the latest, and keep the date on the card.

Bad::

    papers: {renewal: 5 years}

Good::

    papers: {renewal: 1 year}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("2 years", "age")


def find(case: Case, limit: float) -> Says:
    interval = case.layout.papers.renewal
    allowed = Figure(limit, "age")
    if interval is None:
        what = "No interval is stated at which soft hose is renewed."
        yield Found("papers", what, None, allowed, "renewal")
    elif interval > limit:
        what = f"Soft hose is renewed only every {show(interval, 'age')}."
        yield Found("papers", what, Figure(interval, "age"), allowed, "renewal")
