"""Fuel left on one side rolls the aircraft at landing.

Why: Fuel kept in one of a pair is trimmed out unseen, until the slow approach.
Cure: Chain the pair, make the branches of the tee alike, or hold air back with fine-pore pickups.
Over: teed-pair

Bad::

    aircraft: {lateral-limit: 0.02 N m}

Good::

    aircraft: {lateral-limit: 5 N m}
"""

import numpy as np

from plumbing.checks.kit import Case, Figure, Found, Says, Severity
from plumbing.physics.constants import GRAVITY
from plumbing.results import got
from plumbing.units import clock, show

SEVERITY = Severity.FAULT
SOURCE = "computed flight; usual limit 2 % of mass times half span: common practice"

_SHARE = 0.02


def find(case: Case, limit: float) -> Says:
    flight = got(case.flight)
    aircraft = case.layout.aircraft
    allowed = aircraft.lateral_limit
    if allowed is None and aircraft.dry_mass and aircraft.half_span:
        allowed = _SHARE * aircraft.dry_mass * GRAVITY * aircraft.half_span
    if allowed is None:
        return
    moment = np.abs(flight.dry_run.moment)
    worst = int(np.argmax(moment))
    if moment[worst] > allowed:
        yield Found(
            "aircraft",
            f"Flown on until the engine stops, fuel left on one side rolls it by "
            f"{show(float(moment[worst]), 'moment')} after "
            f"{clock(float(flight.dry_run.time[worst]))}; {show(allowed, 'moment')} can be "
            "trimmed.",
            Figure(float(moment[worst]), "moment"),
            Figure(allowed, "moment"),
            field="lateral_limit",
        )
