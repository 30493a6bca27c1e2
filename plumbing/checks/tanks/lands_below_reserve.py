"""The flight ends with less than the reserve.

Why: The reserve is one missed approach and one circuit; without it the next surprise is a glide.
Cure: Fly shorter or carry more; set the timer from usable fuel, not from tank volume.

Bad::

    flights: {sport: {phases: [{name: level, duration: 6 min, throttle: 80 %}]}}

Good::

    flights: {sport: {phases: [{name: level, duration: 3 min, throttle: 60 %}]}}
"""

from plumbing.checks.flown import of_flight
from plumbing.checks.kit import Case, Figure, Found, Says, Severity
from plumbing.results import got

SEVERITY = Severity.FAULT
SOURCE = (
    "common practice: the greater of a fifth of the usable fuel and two minutes at full throttle"
)


def find(case: Case, limit: float) -> Says:
    flight = got(case.flight)
    if flight.landed_with >= flight.reserve:
        return
    yield Found(
        "reserve",
        f"{of_flight(flight).capitalize()} ends with {1e6 * flight.landed_with:.0f} ml of usable "
        f"fuel; {1e6 * flight.reserve:.0f} ml should be left.",
        Figure(flight.landed_with, "volume"),
        Figure(flight.reserve, "volume"),
    )
