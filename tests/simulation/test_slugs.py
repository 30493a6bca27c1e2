"""Air on its way through the lines, held to the volume of the bore over the flow."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from flight_rigs import PER_MINUTE, flown, single, steady, teed

from plumbing import api
from plumbing.model.ground import Simulation
from plumbing.model.parts import Tee
from plumbing.network import survey
from plumbing.report.fly_text import fly_text
from plumbing.simulation.slugs import Slugs, slugs_for
from plumbing.studies.faults import faults

BORE, LENGTH, FLOW = 4e-3, 1.0, 160.0 * PER_MINUTE
VOLUME = 0.25 * math.pi * BORE**2 * LENGTH  # 12.57 ml


def lines(duration, flow, to_pump, to_engine):
    """Lines of one demand."""
    per_stretch = np.array(flow, float)[None, :, None]
    return Slugs(
        np.array(duration, float), per_stretch, np.array([[to_pump]]), np.array([[to_engine]])
    )


def after(one, entered):
    """When air that enters at a time is at the pump and at the engine."""
    when = np.array([[entered]])
    return float(one.at_pump(when)[0, 0]), float(one.at_engine(when)[0, 0])


@pytest.mark.outside("worked by hand: volume of the bore over the flow", quantity="slug delay")
def test_a_metre_of_4_mm_holds_air_back_for_4_71_s():
    """12.57 ml at 160 ml/min."""
    pump, engine = after(lines([100.0], [FLOW], VOLUME, 2.0 * VOLUME), 10.0)
    assert pump == pytest.approx(14.71, abs=0.005)
    assert engine == pytest.approx(19.42, abs=0.005)


@pytest.mark.outside("worked by hand", quantity="slug delay")
def test_a_slug_slows_down_with_the_flow_and_waits_without():
    """10 ml: 4 ml at 1 ml/s, a pause of 7 s, 3 ml at 1 ml/s and 3 ml at 0.5 ml/s."""
    one = lines([6.0, 7.0, 3.0, 50.0], [1e-6, 0.0, 1e-6, 0.5e-6], 4e-6, 10e-6)
    pump, engine = after(one, 2.0)
    assert pump == pytest.approx(6.0)
    assert engine == pytest.approx(22.0)


def test_what_does_not_arrive_within_the_run_never_does():
    """Nor does what never entered; several scenarios keep their own flows."""
    assert after(lines([20.0], [1e-6], 5e-6, 15e-6), 10.0) == (15.0, math.inf)
    assert after(lines([20.0], [1e-6], 5e-6, 15e-6), math.inf) == (math.inf, math.inf)
    flow = np.array([1e-6, 2e-6])[:, None, None]
    both = Slugs(np.array([50.0]), flow, np.array([[2e-6]]), np.array([[6e-6]]))
    assert both.at_engine(np.array([[1.0], [1.0]]))[:, 0] == pytest.approx([7.0, 4.0])
    assert both.of(1).at_engine(np.array([[1.0]]))[0, 0] == pytest.approx(4.0)


@pytest.mark.outside("worked by hand: volume of the bore over the flow", quantity="slug delay")
def test_the_engine_stops_later_by_what_the_lines_hold():
    """Two lines of 4 mm bore, 0.2 m each: the same fuel, later."""
    layout = single(FLOW / PER_MINUTE)
    flight = flown(layout, steady(900.0))
    at_once = flown(replace(layout, simulation=Simulation(slugs=False)), steady(900.0))
    length = {name: line.cut_length for name, line in layout.lines.items()}
    area = 0.25 * math.pi * BORE**2
    near, far = area * length["feed"], area * (length["feed"] + length["to engine"])
    first, second = flight.air_at_pump["pump"], at_once.air_at_pump["pump"]
    assert first.first - second.first == pytest.approx(near / FLOW, abs=1e-3)
    assert first.at_engine - second.at_engine == pytest.approx(far / FLOW, abs=1e-3)
    assert flight.flame_out["pump"] - at_once.flame_out["pump"] == pytest.approx(
        far / FLOW, abs=1e-3
    )
    assert flight.duration == flight.flame_out["pump"]
    assert flight.endurance - at_once.endurance == pytest.approx(far / FLOW, abs=1e-3)
    assert flight.usable == pytest.approx(at_once.usable)
    assert flight.stranded == pytest.approx(at_once.stranded)


@pytest.mark.outside("worked by hand: volume of the bore", quantity="slug delay")
@pytest.mark.parametrize(("near", "far"), [(300, 900), (900, 300)])
def test_of_two_teed_tanks_the_shorter_way_counts(near, far):
    """0.3 m to the tee and 0.2 m on to the pump, in 4 mm bore: 6.3 ml, whichever tank it is."""
    flight = flown(teed(near, far), steady(60.0))
    assert flight.line_to_pump["pump"] == pytest.approx(6.28e-6, abs=0.01e-6)


@pytest.mark.outside("worked by hand: volume of the bore", quantity="slug delay")
def test_two_pumps_empty_the_line_they_share_twice_as_fast():
    """Of 0.2 m that both draw through each draws half, of its own 0.3 m all: 5.03 ml."""
    layout = single()
    tee = Tee(name="split", at=layout.pumps["pump"].at, bore=BORE)
    feed, delivery = layout.lines["feed"], layout.lines["to engine"]
    lines = {
        "feed": replace(feed, to="split.run-a", cut_length=0.2),
        "left": replace(feed, name="left", from_="split.run-b", cut_length=0.3),
        "right": replace(feed, name="right", from_="split.branch", to="other.in", cut_length=0.3),
        "to engine": delivery,
        "to twin": replace(delivery, name="to twin", from_="other.out", to="twin.feed"),
    }
    layout = replace(
        layout,
        lines={**layout.lines, **lines},
        tees={**layout.tees, "split": tee},
        pumps={**layout.pumps, "other": replace(layout.pumps["pump"], name="other")},
        engines={
            **layout.engines,
            "twin": replace(next(iter(layout.engines.values())), name="twin"),
        },
    )
    ways = slugs_for(layout, survey(layout), ("pump", "other"), np.ones(1), np.ones((1, 1, 2)))
    assert ways.to_pump[0] == pytest.approx(2 * [5.027e-6], abs=0.001e-6)


def test_a_pump_that_starves_is_felt_at_once():
    """Only gas has a way to go: fuel that is not delivered is missed at the engine."""
    one = lines([100.0], [1e-6], 2e-6, 6e-6)
    felt = one.felt(np.array([[10.0]]), np.array([[False]]))
    assert felt[0, 0] == pytest.approx(10.0)
    assert one.felt(np.array([[10.0]]), np.array([[True]]))[0, 0] == pytest.approx(16.0)


def test_the_file_and_the_option_switch_slugs_off(tmp_path):
    """Both give the same flight: the same usable fuel, a shorter endurance, and it is said."""
    drawn = Path("layouts/single-main.yaml").read_text()
    off = tmp_path / "off.yaml"
    off.write_text(drawn + "\nsimulation: {slugs: no}\n")
    on, by_file = api.fly("layouts/single-main.yaml"), api.fly(off)
    by_option = api.fly("layouts/single-main.yaml", slugs=False)
    assert by_file.endurance == by_option.endurance < on.endurance
    assert by_file.usable == on.usable
    said = fly_text(api.load(off), by_file)
    assert "as soon as it leaves the tank" in " ".join(said.split())


@pytest.mark.outside("worked by hand: volume of the bore over the flow", quantity="slug delay")
def test_faults_know_of_slugs():
    """The sound aircraft among the faults stops later by 0.4 m of 4 mm bore: 1.885 s."""
    layout, profile = single(), steady(400.0)
    at_once = replace(layout, simulation=Simulation(slugs=False))
    later, sooner = (faults(one, survey(one), profile) for one in (layout, at_once))
    delay = later.nominal_stops["pump"] - sooner.nominal_stops["pump"]
    assert delay == pytest.approx(1.885, abs=1e-3)
