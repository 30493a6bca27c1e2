"""Collapsing bags: flown, filled, parked, drained and broken, against sums by hand."""

from dataclasses import replace

import numpy as np
import pytest
from flight_rigs import ML, PER_MINUTE, closure, engine, flown, steady
from ground_rigs import box, rig

from plumbing.model.ground import Filling, Parking
from plumbing.model.tank import Wall
from plumbing.network import survey
from plumbing.physics.pumps import SUCTION_LIMIT
from plumbing.simulation.draining import drain_all
from plumbing.simulation.filling import fill
from plumbing.simulation.parking import park
from plumbing.simulation.tilt import tilt
from plumbing.studies.faults import faults

STAYS, COLLAPSE, PROOF = 0.02, 4e3, 12e3
CAPACITY = 800.0 * ML  # 160 x 100 x 50 mm
FLOW = 160.0


def wall(stays=STAYS, collapse=COLLAPSE, proof=PROOF):
    """The wall of a bag."""
    return Wall(kind="bag", stays=stays, collapse_suction=collapse, proof_pressure=proof)


def bag(flow=FLOW, header=False, fill=0.98, port=(0, 0, -24), vent=False, **more):
    """A bag of 800 ml feeding a pump at the height of its floor, through a header if wanted."""
    ports = {"feed": port, "filler": (10, 0, -24)} | ({"vent": (-40, 0, 25)} if vent else {})
    tanks = [box("bag", (0, 0, 0), (160, 100, 50), wall=wall(), fill=fill, **ports)]
    lines = {
        "to engine": ("pump.out", "engine.feed", 200),
        "fill line": ("fill.tube", "bag.filler", 100),
    }
    parts = {
        "pumps": {"pump": (300, 0, -25)},
        "engines": {"engine": engine(flow)},
        "fill_ports": {"fill": (10, 0, -60)},
    }
    if vent:
        lines["vent line"] = ("bag.vent", "vent.tube", 100)
        parts["outlets"] = {"vent": (-40, 0, 60)}
    if header:
        at = (150, 0, -20)
        ends = {"into": (150, 0, 0), "out": (150, 0, -39)}
        tanks.append(box("header", at, (40, 40, 40), role="header", **ends))
        lines |= {
            "feed": ("bag.feed", "header.into", 200),
            "to pump": ("header.out", "pump.in", 200),
        }
    else:
        lines["feed"] = ("bag.feed", "pump.in", 200)
    return rig(tanks, lines, **{**parts, **more})


@pytest.mark.outside("worked by hand: volume over flow", quantity="endurance on a bag")
@pytest.mark.parametrize("flow", [40.0, 160.0, 400.0])
def test_engine_runs_until_what_stays_is_left(flow):
    """784 ml are on board and 16 ml stay: 768 ml are burnt, then the engine stops."""
    found = flown(bag(flow), steady(30.0))
    assert sum(found.dry_books.burnt.values()) == pytest.approx(768.0 * ML, rel=0.002)
    assert found.dry_run.volume[-1, 0] == pytest.approx(16.0 * ML, rel=0.06)
    assert closure(found.dry_run) < 1e-9


@pytest.mark.outside("worked by hand: volume over flow", quantity="time in a bag's flight")
def test_suction_comes_with_the_last_of_the_fuel():
    """160 ml/min: limp until 80 ml are left after 264 s; folded flat at 16 ml: 4 kPa, 288 s."""
    history = flown(bag(), steady(300.0)).dry_run
    limp = history.time < (784.0 - 80.0) / FLOW * 60.0 - 0.1
    assert np.abs(history.pressure[limp, 0]).max() == pytest.approx(0.0, abs=1e-6)
    when = np.interp(COLLAPSE, -history.pressure[~limp, 0], history.time[~limp])
    assert when == pytest.approx((784.0 - 16.0) / FLOW * 60.0, abs=0.5)


@pytest.mark.parametrize("header", [False, True])
@pytest.mark.parametrize("port", [(0, 0, -24), (0, 0, 0), (0, 0, 24)])
def test_no_air_comes_to_the_pickup_of_a_bag_wherever_it_is(header, port):
    """Common practice: the film follows the fuel, so a pickup at the lid draws fuel, not air."""
    found = flown(bag(header=header, port=port), steady(30.0, repeat=4))
    assert found.air_at_pump["pump"].first is None
    assert found.dry_run.volume[-1, 0] == pytest.approx(16.0 * ML, rel=0.06)


def test_header_behind_a_bag_stays_full():
    """No air comes into it, so it gives nothing: 64 ml stay in it to the end."""
    found = flown(bag(header=True), steady(30.0))
    assert found.dry_run.volume[:, 1] == pytest.approx(64.0 * ML, rel=1e-6)


@pytest.mark.outside("worked by hand: 4 kPa at what stays", quantity="suction in an emptied bag")
def test_emptied_bag_pulls_as_hard_as_the_pump():
    """In the end the pump pulls at its limit, and the folds hold the fuel against it."""
    history = flown(bag(), steady(30.0)).dry_run
    assert -history.pressure[:, 0].min() == pytest.approx(SUCTION_LIMIT, rel=0.05)


def test_bag_needs_no_air_and_its_vent_is_air():
    """Without a vent it folds and lacks no air; with an open one it is a rigid tank."""
    found = survey(bag(header=True))
    assert (found.bags, found.airless) == (("bag",), ())
    assert survey(bag(vent=True)).bags == ()
    rigid = bag(header=True)
    rigid = replace(rigid, tanks={**rigid.tanks, "bag": replace(rigid.tanks["bag"], wall=None)})
    assert survey(rigid).airless == ("bag", "header")


def test_bag_gives_first_in_the_feed_order():
    """It folds at no cost; the sealed header behind it keeps its fuel."""
    assert survey(bag(header=True)).order.tanks == ("bag", "header")


@pytest.mark.outside("worked by hand: x = p / (p + 12 kPa)", quantity="fuel pumped into a bag")
@pytest.mark.parametrize("pump", [6e3, 12e3, 36e3])
def test_bag_is_filled_until_its_pressure_is_that_of_the_pump(pump):
    """Its surface stands 85 mm over the fill port, 0.67 kPa, and 50 mm over its floor."""
    layout = bag(filling=Filling(flow=400 * PER_MINUTE, pump_pressure=pump))
    found = fill(layout, survey(layout)).tanks["bag"]
    head = 0.67e3
    by_hand = 0.99 + 0.01 * (pump - head) / (pump - head + PROOF)
    assert found.holds / CAPACITY == pytest.approx(by_hand, abs=1e-4)
    assert found.pressure == pytest.approx(pump - head + 0.39e3, rel=0.03)
    assert found.trapped == 0.0


@pytest.mark.outside("worked by hand: 784 ml - 16 ml", quantity="fuel drawn out of a bag")
def test_bag_is_drawn_empty_but_for_what_stays():
    """The filling pump draws back 768 ml."""
    layout = bag(filling=Filling(flow=400 * PER_MINUTE))
    books = drain_all(layout, survey(layout))["fill"].books
    assert books.taken == pytest.approx(768.0 * ML, rel=0.003)


@pytest.mark.outside("ASTM D1250: 2 % in 20 degC, nearly", quantity="growth of the fuel in a bag")
@pytest.mark.parametrize(("share", "takes_up"), [(0.9, True), (0.995, False)])
def test_slack_of_a_bag_takes_up_the_growth_of_warm_fuel(share, takes_up):
    """A bag 90 % full has room for 2 % more; one that is full has not."""
    standing = Parking(name="hot", kind="parked", duration=900.0, hottest=35.0)
    layout = bag(header=True, fill=share, parking={"hot": standing})
    heat = park(layout, survey(layout)).attitudes["hot"].warmed
    assert (heat.capped_pressure["bag"] == 0.0) == takes_up
    assert (heat.spilt == 0.0) == takes_up


def test_what_stays_is_the_same_in_every_attitude():
    """The map over pitch and roll is flat: 16 ml."""
    layout = bag()
    over = tilt(layout, survey(layout), grid=(5, 9))
    assert over.unusable == pytest.approx(16.0 * ML)


def test_bag_flat_over_its_port_stops_the_engine():
    """Common practice: without a grid a bag seals its outlet; all the fuel is then on board."""
    layout = bag()
    found = {one.fault.kind: one for one in faults(layout, survey(layout), steady(60.0)).outcomes}
    shut = found["bag shuts its port"]
    assert shut.stops
    assert shut.stranded == pytest.approx(784.0 * ML, rel=0.01)
