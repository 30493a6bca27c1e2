"""A fault beside the flight of a layout in which the same was changed by hand."""

import pytest

from plumbing.network import survey
from plumbing.simulation.flight import fly


def assert_same(one, changed, profile, engines):
    """Engines stop within half a second, suction and pressures in the tanks within 1 %.

    `engines` names the engine of each pump that is compared.
    """
    flight = fly(changed, survey(changed), profile)
    history = flight.history
    for pump, engine in engines.items():
        stops = flight.flame_out[pump]
        assert one.stops.get(engine) == (stops and pytest.approx(stops, abs=0.5))
        number = history.pumps.index(pump)
        runs = history.flow[:, number] > 0.0
        suction = float(history.suction[runs, number].max())
        assert one.suction[pump] == pytest.approx(suction, rel=0.01, abs=1.0)
    lowest = -history.pressure.min(axis=0)
    assert list(one.tank_suction.values()) == pytest.approx(lowest, rel=0.01, abs=1.0)
