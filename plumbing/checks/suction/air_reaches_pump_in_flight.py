"""Air gets past the header to the pump.

Why: A gear pump delivers air as willingly as fuel, and a slug of it is a gap in the flame.
Cure: Keep the header full: longer clunk, larger or fine-pore header pickup, more fuel left.

Bad::

    flights: {sport: {phases: [{name: level, duration: 15 min, throttle: 60 %}]}}

Good::

    flights: {sport: {phases: [{name: level, duration: 3 min, throttle: 60 %}]}}
"""

from plumbing.checks.flown import of_flight
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.results import got
from plumbing.units import clock

SEVERITY = Severity.UNSAFE
SOURCE = "computed flight"


def find(case: Case, limit: float) -> Says:
    flight = got(case.flight)
    for pump, gasp in flight.air_at_pump.items():
        if gasp.first is not None:
            yield Found(
                pump,
                f"In {of_flight(flight)} air reaches {pump} after {clock(gasp.first)}, "
                f"in the phase {gasp.phase}.",
            )
