"""Gas that is shut in, and pumps that starve: against Boyle's law and sums by hand."""

from dataclasses import replace

import numpy as np
import pytest
from flight_rigs import ML, PER_MINUTE, chained, closure, flown, single, steady, teed

from plumbing.model.parts import Filter, Plug
from plumbing.network import survey
from plumbing.physics.constants import ATMOSPHERE
from plumbing.physics.demand import FLAME_OUT_GAS
from plumbing.physics.pumps import SUCTION_LIMIT
from plumbing.simulation.flight import feeding_for
from plumbing.simulation.march import march
from plumbing.simulation.moment import Stretches

FLOW = 160.0 * PER_MINUTE


def plugged(layout, *outlets):
    """The same with plugs left in."""
    plug = Plug(fitted_in_flight=True)
    changed = {name: replace(layout.outlets[name], plug=plug) for name in outlets}
    return replace(layout, outlets={**layout.outlets, **changed})


def filled(layout, **shares):
    """The same with tanks filled to these shares."""
    tanks = {name: replace(layout.tanks[name], fill=share) for name, share in shares.items()}
    return replace(layout, tanks={**layout.tanks, **tanks})


def when(history, tank, pressure):
    """When the gas of a tank falls to a pressure [Pa]: its volume grows evenly in a step."""
    stretched = 1.0 / (ATMOSPHERE + history.pressure[:, tank])
    return float(np.interp(1.0 / (ATMOSPHERE + pressure), stretched, history.time))


@pytest.mark.outside("Boyle's law", quantity="suction in a tank with its vent blocked")
@pytest.mark.parametrize("suction", [5e3, 20e3, 35e3])
def test_gas_of_a_plugged_tank_stretches_by_boyles_law(suction):
    """60 ml of air, 160 ml/min drawn: air p / (atmosphere - p) must have been drawn for p."""
    layout = plugged(filled(single(), main=1.0 - 60.0 / 720.0), "vent")
    history = flown(layout, steady(60.0)).history
    by_hand = 60.0 * ML * suction / (ATMOSPHERE - suction) / FLOW
    assert when(history, 0, -suction) == pytest.approx(by_hand, rel=0.005)
    assert closure(history) < 1e-12


@pytest.mark.outside("Boyle's law", quantity="flame-out with the vent blocked")
def test_the_engine_stops_when_the_gas_is_stretched_to_the_limit_of_the_pump():
    """The pump stands 0.3 kPa of fuel lower than the gas: it has no more when the gas is there."""
    layout = plugged(filled(single(), main=1.0 - 60.0 / 720.0), "vent")
    stops = flown(layout, steady(60.0)).flame_out["pump"]
    by_hand = 60.0 * ML * SUCTION_LIMIT / (ATMOSPHERE - SUCTION_LIMIT) / FLOW
    assert by_hand < stops < by_hand + 1.0


@pytest.mark.outside("Boyle's law", quantity="suction in two tanks that share a blocked vent")
@pytest.mark.parametrize("near", [0.9, 1.0])
def test_tanks_that_hang_together_share_their_gas(near):
    """The gas of a chain is one: full or not, the tank ahead is as far stretched as the other."""
    layout = plugged(filled(chained(), far=0.9, near=near), "vent")
    history = flown(layout, steady(60.0)).history
    air = (0.1 + 1.0 - near) * 720.0 * ML
    by_hand = air * 20e3 / (ATMOSPHERE - 20e3) / FLOW
    assert when(history, 0, -20e3) == pytest.approx(by_hand, rel=0.02)
    assert closure(history) < 1e-12


def test_a_blocked_vent_seals_the_tank_it_serves_and_no_other():
    """Of two teed tanks with a vent each, the blocked one keeps its fuel, the other gives all.

    By hand: nothing replaces what the one would give; the other alone lasts its fuel over flow,
    until the bore of its port, which lies on the floor, is so dry that the engine gets too much
    gas, and the gas has come through the lines.
    """
    layout = plugged(filled(teed(), near=0.9, far=0.9), "near vent")
    flight = flown(layout, steady(600.0))
    assert flight.stranded["near"] == pytest.approx(648.0 * ML, rel=1e-3)
    wet = (1.0 - FLAME_OUT_GAS[0]) * 4.0 * 150.0 * 80.0 * 1e-9
    assert flight.stranded["far"] == pytest.approx(wet, rel=0.01)
    lines = 0.7 * np.pi / 4.0 * 4e-3**2  # near branch, to the pump, to the engine
    assert flight.flame_out["pump"] == pytest.approx((648.0 * ML - wet + lines) / FLOW, rel=0.01)
    assert -flight.history.pressure.min() < 2e3


def test_filling_a_capped_tank_presses_its_gas_together():
    """A twin of the first in the other direction: pushed in by 30 of 60 ml, twice the pressure."""
    layout = plugged(filled(single(), main=1.0 - 60.0 / 720.0), "vent")
    feeding = feeding_for(layout, survey(layout), steady(30.0 * ML / FLOW))
    feeding = replace(feeding, flow=-feeding.flow)
    start = np.array([[660.0 * ML]])
    stretches = Stretches(np.array([30.0 * ML / FLOW]), feeding.index)
    end = march(feeding.tanks, stretches, start, feeding.remembering(1))
    tank = feeding.plumbed.tank_node[0]
    assert end.volume[0, 0] == pytest.approx(690.0 * ML, rel=1e-6)
    zero = np.zeros(1, dtype=np.intp)
    pressure = feeding.pressures(end.ended, zero, zero)
    assert pressure[0, tank] == pytest.approx(ATMOSPHERE, rel=5e-3)


def choked(drop):
    """A tank whose filter has a clean drop [Pa] at full flow."""
    layout = single()
    lines = dict(layout.lines)
    feed = lines.pop("feed")
    lines["feed"] = replace(feed, to="filter.in")
    lines["to pump"] = replace(feed, name="to pump", from_="filter.out", to="pump.in")
    strainer = Filter(
        name="filter", at=(0.2, 0.0, -0.03), bore=4e-3, clean_drop=drop, drop_flow=FLOW
    )
    return replace(layout, lines=lines, filters={"filter": strainer})


@pytest.mark.outside("drop in proportion to flow", quantity="flow that can be had")
def test_a_pump_gets_the_flow_that_comes_at_its_limit():
    """A filter of 50 kPa lets a pump that pulls 40 kPa have about 40/50 of the flow, and no more.

    The filter's law is a straight line; tube and lift take some hundred pascals either way.
    """
    flight = flown(choked(50e3), steady(60.0))
    history = flight.history
    assert history.suction.max() == pytest.approx(SUCTION_LIMIT, abs=1.0)
    assert history.flow[:, 0] / FLOW == pytest.approx(0.8, abs=0.02)
    assert history.share[:, 0] == pytest.approx(0.8, abs=0.02)


@pytest.mark.parametrize("drop", [110e3, 365e3])
def test_nothing_flies_to_the_end_on_more_suction_than_there_is(drop):
    """At a third of its flow an engine goes out at once."""
    assert flown(choked(drop), steady(60.0)).flame_out["pump"] == pytest.approx(0.5, abs=0.1)


def test_a_pump_within_its_limit_gets_all():
    """38 kPa is within the limit: the flight is flown."""
    history = flown(choked(38e3), steady(60.0)).history
    assert history.flow[:, 0] == pytest.approx(FLOW, rel=1e-9)
    assert history.suction.max() < SUCTION_LIMIT
