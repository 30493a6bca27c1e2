"""A tank is not filled from the fill port.

Why: Fuel does not get there, or the air in it cannot leave: the flight begins with a tank part
full that counts as full.
Cure: Let the filling path run through every tank to the overflow.

Bad::

    outlets: {vent: {plug: {fitted-in-flight: yes}}}

Good::

    outlets: {vent: {plug: {fitted-in-flight: no}}}
"""

from plumbing.checks.kit import Case, Found, Lacking, Says, Severity
from plumbing.checks.words import called

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    survey = case.survey
    if not survey.fills:
        yield Lacking("fill-ports")
        return
    for tank in survey.unfilled:
        trapped = [fill.port for fill in survey.fills.values() if tank in fill.dead_ended]
        if trapped:
            what = f"Filling at {called('fill port', trapped[0])}, the air in {tank} cannot leave."
        else:
            what = f"Filling at {' or '.join(survey.fills)}, no fuel reaches {tank}."
        yield Found(tank, what, parts=tuple(trapped or survey.fills))
