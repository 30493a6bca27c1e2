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

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    survey = case.survey
    if not survey.fills:
        yield Lacking("fill-ports")
        return
    fill = survey.fill
    missed = survey.unfilled if fill is None else fill.not_reached + fill.dead_ended
    for tank in missed:
        if fill is None:
            what = f"No fill port fills {tank}."
        elif tank in fill.dead_ended:
            what = f"Filling at {fill.port}, the air in {tank} cannot leave."
        else:
            what = f"Filling at {fill.port}, no fuel reaches {tank}."
        yield Found(tank, what, parts=(fill.port,) if fill else ())
