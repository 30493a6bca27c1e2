"""What the checks of a flight share."""

from __future__ import annotations

from collections.abc import Iterator

from plumbing.checks.kit import Case, Lacking
from plumbing.simulation.flight_result import Flown


def flown(case: Case) -> Flown | None:
    """The flight, if any engine burns fuel in it."""
    flight = case.flight
    return flight if flight is not None and flight.usable > 0.0 else None


def not_flown(case: Case) -> Iterator[Lacking]:
    """Say what is missing where no flight could be computed."""
    if flown(case) is None:
        yield Lacking("an open way for fuel from a tank to an engine whose flow is known")


def of_flight(flight: Flown) -> str:
    """Name of the flight, and that it was assumed."""
    return (
        f"the {flight.profile.name}" if flight.profile.assumed else f"flight {flight.profile.name}"
    )
