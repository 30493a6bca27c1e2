"""The aircraft is near its aft limit when it comes home empty.

Why: Landings are flown with little fuel, slowly, and often with the last tank alone: the worst
time to be tail-heavy.
Cure: Keep fuel ahead of the centre of gravity for the end, or move the dry centre of gravity
forward.

Bad::

    aircraft: {dry-cg: [390 mm, 0 mm, 20 mm]}

Good::

    aircraft: {dry-cg: [372 mm, 0 mm, 20 mm]}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.simulation.balance import gears, lacking, states
from plumbing.units import show

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
LIMIT = Limit("1 %", "share")


LANDING = 2  # the last states flown: the last tank alone, and none


def find(case: Case, limit: float) -> Says:
    aircraft = case.layout.aircraft
    chord, limits = aircraft.mean_chord, aircraft.cg_limits
    if chord is None:
        yield Lacking("aircraft.mean-chord", "aircraft")
    if limits is None:
        yield Lacking("aircraft.cg-limits", "aircraft")
    missing = lacking(case.layout)
    if missing:
        yield Lacking(missing, "aircraft")
    if chord is None or limits is None or missing:
        return
    margin = limits[1] - limit * chord
    for state in states(case.layout, case.survey.order.steps)[-LANDING * gears(case.layout) :]:
        if margin < state.cg[0] <= limits[1]:
            what = (
                f"With {state.what} the centre of gravity lies only "
                f"{show(limits[1] - state.cg[0], 'length')} ahead of its aft limit."
            )
            figures = Figure(state.cg[0], "length"), Figure(margin, "length")
            yield Found("aircraft", what, *figures)
