"""The centre of gravity travels far while the fuel burns.

Why: An aircraft that must be trimmed all flight long is trimmed wrongly at the moment it
matters.
Cure: Move the tanks nearer to the dry centre of gravity, or burn fore and aft in turn.

Bad::

    aircraft: {dry-cg: [480 mm, 0 mm, 20 mm]}

Good::

    aircraft: {dry-cg: [372 mm, 0 mm, 20 mm]}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.simulation.balance import lacking, states
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("5 %", "share")


GOOD = 0.6  # of the limit; above it the travel is worth a word


def find(case: Case, limit: float) -> Says:
    chord = case.layout.aircraft.mean_chord
    if chord is None:
        yield Lacking("aircraft.mean-chord", "aircraft")
    missing = lacking(case.layout)
    if missing:
        yield Lacking(missing, "aircraft")
    if chord is None or missing:
        return
    down = [state for state in states(case.layout, case.survey.order.steps) if not state.gear_up]
    ahead, behind = min(down, key=lambda s: s.cg[0]), max(down, key=lambda s: s.cg[0])
    travel = (behind.cg[0] - ahead.cg[0]) / chord
    if travel > GOOD * limit:
        what = (
            f"The centre of gravity travels {show(travel, 'share')} of the mean chord, "
            f"between {ahead.what} and {behind.what}."
        )
        severity = Severity.ADVICE if travel <= limit else None
        figures = Figure(travel, "share"), Figure(limit, "share")
        yield Found("aircraft", what, *figures, severity=severity)
