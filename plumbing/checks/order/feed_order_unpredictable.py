"""Which tank empties first is left to chance.

Why: Of two teed tanks the first to run dry gives the pump air instead of fuel, and the other
keeps its fuel.
Cure: Chain the tanks, or give each a fine-pore pickup that holds air back.
Over: teed-pair

Bad::

    tanks:
      port: {ports: {feed: {pickup: {kind: clunk, pore: null, area: null, swings: null}}}}

Good::

    tanks:
      port: {ports: {feed: {pickup: {kind: fine-pore, pore: 30 um, area: 600 mm2, swings: yes}}}}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import listed

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for teed in case.survey.teed:
        if not teed.balanced and not teed.fine_pore:
            what = (
                f"Nothing decides which of {listed(teed.tanks)} empties first; the one that "
                "is dry lets air in and strands the other."
            )
            yield Found(teed.tanks[0], what, parts=(*teed.tanks[1:], *teed.tees))
