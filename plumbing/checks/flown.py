"""What the checks of a flight share."""

from __future__ import annotations

import numpy as np

from plumbing.physics.pumps import SUCTION_LIMIT
from plumbing.simulation.flight_result import Flown
from plumbing.units import show


def of_flight(flight: Flown) -> str:
    """Name of the flight, and that it was assumed."""
    return (
        f"the {flight.profile.name}" if flight.profile.assumed else f"flight {flight.profile.name}"
    )


def why_stopped(flight: Flown, pump: str, time: float) -> str:
    """What leaves a pump without fuel when its engine stops, in words."""
    history = flight.history
    at = min(int(np.searchsorted(history.time, time)), len(history.time) - 1)
    suction = float(history.suction[at, history.pumps.index(pump)])
    if suction < SUCTION_LIMIT:
        return "no fuel reaches the pump"
    return f"at {show(SUCTION_LIMIT, 'pressure')} of suction its pump draws vapour and air"
