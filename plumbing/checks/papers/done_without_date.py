"""What was done has no date and no name.

Why: A tick nobody answers for is no evidence: an inspector cannot ask who did it, nor a later
change tell what has to be done again.
Cure: Write `done 2026-05-01 by builder`, or the measured value, in the place of `done`.

Bad::

    papers: {lines-labelled: done}

Good::

    papers: {lines-labelled: done 2026-05-01 by builder}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import listed
from plumbing.layout.stated import stated

SEVERITY = Severity.ADVICE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    every = stated(case.layout).items()
    bare = [path for path, one in every if one.state == "done" and not one.on]
    if bare:
        what = f"The file says done, but not when and by whom, of {listed(bare)}."
        yield Found("papers", what)
