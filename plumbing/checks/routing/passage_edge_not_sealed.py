"""The cut edge of a passage is not sealed against kerosene.

Why: Bare wood soaks fuel and delaminates; foam softens and dissolves.
Cure: Seal the edge with epoxy or varnish, or line the hole in foam with a tube.

Bad::

    formers: {F2: {passages: {feed: {sealed: no}}}}

Good::

    formers: {F2: {passages: {feed: {sealed: yes}}}}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.network.former_holes import passages

SEVERITY = Severity.FAULT
SOURCE = "common practice"


SOAKS = ("plywood", "balsa", "foam")
CLOSED = ("sealed-radius", "liner")


def find(case: Case, limit: float) -> Says:
    for former, passage in passages(case.layout):
        if former.material not in SOAKS or passage.edge in CLOSED:
            continue
        missing = f"formers.{former.name}.passages.{passage.name}.sealed"
        what = (
            f"The {former.material} edge of passage {passage.name} in {former.name} is not sealed."
        )
        yield from declared(passage.sealed, missing, Found(former.name, what, field="passages"))
