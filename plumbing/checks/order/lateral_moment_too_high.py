"""Fuel on one side rolls the aircraft more than ailerons should hold.

Why: A wing that is heavy at approach speed takes the aileron that a gust would need.
Cure: Empty tanks off the centre line in the middle of the flight, by halves, or make them
smaller.

Bad::

    aircraft: {dry-cg: [372 mm, 30 mm, 20 mm]}

Good::

    aircraft: {dry-cg: [372 mm, 0 mm, 20 mm]}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.physics.constants import GRAVITY
from plumbing.simulation.balance import lacking, states
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice, unless the file states what the ailerons may hold"
LIMIT = Limit("2 %", "share")


def find(case: Case, limit: float) -> Says:
    aircraft = case.layout.aircraft
    if aircraft.half_span is None and aircraft.lateral_limit is None:
        yield Lacking("aircraft.half-span", "aircraft")
    missing = lacking(case.layout)
    if missing:
        yield Lacking(missing, "aircraft")
    if missing or (aircraft.half_span is None and aircraft.lateral_limit is None):
        return
    for state in states(case.layout, case.survey.order.steps):
        moment = GRAVITY * state.mass * state.cg[1]
        allowed = aircraft.lateral_limit
        if allowed is None:
            allowed = limit * GRAVITY * state.mass * (aircraft.half_span or 0.0)
        if state.gear_up or abs(moment) <= allowed:
            continue
        side = "starboard" if moment > 0 else "port"
        what = (
            f"With {state.what} the aircraft rolls to {side} with {show(abs(moment), 'moment')}, "
            f"more than {show(allowed, 'moment')}."
        )
        figures = Figure(abs(moment), "moment"), Figure(allowed, "moment")
        yield Found(
            state.tanks[0] if state.tanks else "aircraft", what, *figures, parts=state.tanks[1:]
        )
