"""What the checks of a flight share."""

from __future__ import annotations

from plumbing.simulation.flight_result import Flown


def of_flight(flight: Flown) -> str:
    """Name of the flight, and that it was assumed."""
    return (
        f"the {flight.profile.name}" if flight.profile.assumed else f"flight {flight.profile.name}"
    )
