"""No fuel can reach an engine, or a tank's fuel can reach none.

Why: A missing line, a line on the wrong port or a closed valve stops the fuel; the tank stays full.
Cure: Follow the fuel on the schematic from each tank to the engine and join what is open.

Bad::

    valves:
      shut-off: {flight: closed}

Good::

    valves:
      shut-off: {flight: open}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import called, listed

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for engine in case.survey.unfed:
        barred = case.survey.feeds[engine].barred_by
        words = f": {listed(barred)} bars the way" if barred else ", from any tank"
        yield Found(engine, f"No fuel can reach {called('engine', engine)}{words}.", parts=barred)
    for tank in case.survey.cut_off:
        yield Found(tank, f"The fuel in {called('tank', tank)} can reach no engine.", field="ports")
