"""The airstream at the outlets in flight, against values worked by hand."""

from dataclasses import replace

import numpy as np
import pytest
from flight_rigs import ML, PER_MINUTE, engine, flown, single, steady, teed

from plumbing.layout.assume import complete
from plumbing.network import survey
from plumbing.simulation.airstream import coefficient_of, with_airspeed
from plumbing.simulation.flight import feeding_for
from plumbing.studies.fault_batch import lots
from plumbing.studies.spread.draws import draw


def at_speed(layout, speed, seconds=60.0, **coefficients):
    """Fly at an airspeed [m/s], with these pressure coefficients at the outlets."""
    outlets = {
        name: replace(one, pressure_coefficient=coefficients.get(name, 0.0))
        for name, one in layout.outlets.items()
    }
    return flown(replace(layout, outlets=outlets), steady(seconds, airspeed=speed))


@pytest.mark.outside("coefficient times half rho v squared, 1.225 kg/m3", quantity="tank pressure")
def test_the_tank_takes_the_pressure_of_its_outlet():
    """At 50 m/s a coefficient of -0.3 puts -459.4 Pa on the outlet and on the tank behind it."""
    still, fast = (at_speed(single(), speed, vent=-0.3).history for speed in (0.0, 50.0))
    assert fast.outside == pytest.approx(-459.375)
    assert fast.pressure - still.pressure == pytest.approx(-459.375, abs=0.05)
    assert fast.suction - still.suction == pytest.approx(459.375, abs=0.05)


@pytest.mark.outside("hydrostatics: level difference p / (rho g)", quantity="levels of two tanks")
def test_unequal_outlets_hold_the_levels_apart():
    """Between teed tanks fuel flows until the levels differ by 122.5 Pa of it: 15.5 mm."""
    slow = {"engine": engine(0.5)}
    rig = replace(teed(near=300, far=300), engines=slow)
    rig = replace(rig, tanks={n: replace(one, fill=0.5) for n, one in rig.tanks.items()})
    outlets = {
        name: replace(one, pressure_coefficient=0.5 if name == "far vent" else 0.0)
        for name, one in rig.outlets.items()
    }
    history = flown(replace(rig, outlets=outlets), steady(1200.0, airspeed=20.0)).history
    near, far = history.volume[-1] / (0.150 * 0.080)
    assert near - far == pytest.approx(122.5 / (804.0 * 9.80665), rel=0.01)


@pytest.mark.parametrize(
    ("facing", "likely", "low", "high"),
    [("forward", 1.0, 0.9, 1.0), ("aft", -0.2, -0.4, -0.1), (None, 0.0, -0.7, 1.0)],
)
@pytest.mark.outside("stagnation pressure; common practice", quantity="pressure coefficient")
def test_usual_coefficients_by_facing(facing, likely, low, high):
    """An outlet without a coefficient has that of its direction, and it is listed with its band."""
    layout = single()
    vent = replace(layout.outlets["vent"], facing=facing)
    assert coefficient_of(vent) == (likely, low, high)
    listed = complete(replace(layout, outlets={"vent": vent}), ()).assumptions
    value = next(one for one in listed if one.what == "outlets.vent.pressure-coefficient").value
    assert value == f"{likely:g} ({low:g} to {high:g})"


def test_a_phase_without_airspeed_has_a_usual_one():
    """In the air it is 60 % of the highest, listed; on the ground the aircraft stands."""
    layout = single()
    given = with_airspeed(layout, steady(10.0))
    assert given.airspeed == pytest.approx(0.6 * layout.aircraft.max_airspeed)
    assert [one.what for one in given.assumptions] == ["flight: airspeed"]
    ground = steady(10.0, on_ground=True)
    assert with_airspeed(layout, ground) is ground
    stated = steady(10.0, airspeed=33.0)
    assert with_airspeed(layout, stated) is stated


def test_faults_are_flown_in_the_same_airstream():
    """Every scenario of the faults has the pressures of the flight at its outlets."""
    layout = teed()
    vent = replace(layout.outlets["far vent"], pressure_coefficient=-0.4)
    layout = replace(layout, outlets={**layout.outlets, "far vent": vent})
    profile, found = steady(60.0, airspeed=40.0), survey(layout)
    plain = feeding_for(layout, found, profile)
    made = lots(layout, found)[0].batch(layout, found, profile).feeding
    rows = np.zeros(1, dtype=np.intp)
    for feeding in (plain, made):
        node = feeding.plumbed.circuit.nodes.index("far vent.tube")
        assert feeding.outside(rows, rows)[0, node] == pytest.approx(-0.4 * 980.0)


def test_spread_draws_the_coefficient_within_its_band():
    """A stated coefficient stays; one by facing is drawn between its low and high value."""
    layout = teed()
    near = replace(layout.outlets["near vent"], facing="side")
    far = replace(layout.outlets["far vent"], pressure_coefficient=-0.25)
    draws = draw(replace(layout, outlets={"near vent": near, "far vent": far}), 256, 1)
    drawn, stated = draws.coefficient.T
    assert (stated == -0.25).all()
    assert -0.7 <= drawn.min() < -0.6
    assert 0.0 < drawn.max() <= 0.1
    assert drawn.mean() == pytest.approx((-0.7 - 0.3 + 0.1) / 3.0, abs=0.01)
    assert draws.causes.count("outlet pressure") == 1


def test_pressure_at_the_outlet_moves_no_fuel_by_itself():
    """With one outlet the airstream shifts every pressure and no flow."""
    still, fast = (at_speed(single(), speed, vent=-0.3) for speed in (0.0, 60.0))
    assert fast.history.burnt[-1].sum() == pytest.approx(160.0 * PER_MINUTE * 60.0)
    assert fast.usable == pytest.approx(still.usable, abs=0.01 * ML)
