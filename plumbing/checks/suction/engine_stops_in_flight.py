"""An engine runs out of fuel before the end of the flight.

Why: An engine without fuel for half a second is out, and the rest of the flight is a glide.
Cure: Carry more, fly shorter, or keep the pickups covered: a fine-pore pickup, a larger header.

Bad::

    flights: {sport: {phases: [{name: level, duration: 15 min, throttle: 60 %}]}}

Good::

    flights: {sport: {phases: [{name: level, duration: 3 min, throttle: 60 %}]}}
"""

from plumbing.checks.flown import of_flight, why_stopped
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.results import got
from plumbing.units import clock

SEVERITY = Severity.UNSAFE
SOURCE = "computed flight; half a second without fuel stops an engine: common practice"


def find(case: Case, limit: float) -> Says:
    flight = got(case.flight)
    for pump, time in flight.flame_out.items():
        if time is not None:
            phase = flight.air_at_pump[pump].phase
            air = f" (air comes in the phase {phase})" if phase else ""
            left = sum(float(volume) for volume in flight.history.volume[-1])
            yield Found(
                pump,
                f"In {of_flight(flight)} the engine fed by {pump} stops after {clock(time)}: "
                f"{why_stopped(flight, pump, time)}{air}. {1e6 * left:.0f} ml are still in the "
                "tanks.",
            )
