"""Too much air gathers in the header during a flight.

Why: The header swallows air once; half full it has half its buffer left and uncovers sooner.
Cure: Keep the main's pickup covered: longer clunk, baffle, fine-pore pickup, or more fuel left.

Bad::

    flights: {sport: {phases: [{name: level, duration: 15 min, throttle: 60 %}]}}

Good::

    flights: {sport: {phases: [{name: level, duration: 3 min, throttle: 60 %}]}}
"""

from plumbing import units
from plumbing.checks.flown import of_flight
from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.results import got

SEVERITY = Severity.FAULT
SOURCE = "common practice: find the cause of more than a tenth, do not fly with more than a quarter"
LIMIT = Limit("10 %", "share")

_DO_NOT_FLY = 2.5  # times the limit


def find(case: Case, limit: float) -> Says:
    flight = got(case.flight)
    for header, air in flight.header_air.items():
        place = flight.history.tanks.index(header)
        share = air / max(float(flight.history.volume[0, place]), 1e-9)
        if share > limit:
            yield Found(
                header,
                f"In {of_flight(flight)} up to {units.show(air, 'volume', 2)} of air gather in "
                f"{header}, {units.show(share, 'share', 2)} of it.",
                Figure(share, "share"),
                Figure(limit, "share"),
                severity=Severity.UNSAFE if share > _DO_NOT_FLY * limit else None,
            )
