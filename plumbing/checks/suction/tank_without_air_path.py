"""Nothing can take the place of the fuel that leaves a tank.

Why: The pump pulls a vacuum: the tank folds, or the engine starves with fuel on board.
Cure: Give the chain one open vent at the tank that is to empty first, and open it for flight; a
bag that folds, and what it feeds, needs none.

Bad::

    outlets:
      vent: {plug: {fitted-in-flight: yes}}

Good::

    outlets:
      vent: {plug: {fitted-in-flight: no}}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import called, listed

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for name in case.survey.airless:
        way = case.survey.air_path(name)
        closed = way.closed if way else ()
        words = f": {listed(closed)} closes the way" if closed else ", by any line"
        yield Found(
            name, f"No air can get into {called('tank', name)} in flight{words}.", parts=closed
        )
