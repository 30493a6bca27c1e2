"""Fuel that swings in its tank: frequencies of tanks, the way of a surface, what pickups feel."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from flight_rigs import flown, single

from plumbing import api
from plumbing.geometry.attitude import gravity_body
from plumbing.model.flight import Phase
from plumbing.model.ground import Simulation
from plumbing.model.tank import Baffle, Cylinder
from plumbing.report.fly_text import fly_text
from plumbing.simulation.profile import profile_of
from plumbing.simulation.slosh_modes import natural_frequencies, swings_at_all
from plumbing.simulation.sloshing import with_slosh

G = 9.80665
LEVEL = gravity_body(0.0)[None]


def tank(shape=None, **more):
    """A tank of the rigs, of another shape."""
    one = single().tanks["main"]
    return replace(one, shape=shape or one.shape, displaced=0.0, **more)


def swings(one, volume, gravity=LEVEL):
    """Its frequencies along x, y and z."""
    return natural_frequencies(one, np.array([volume]), gravity)[0]


@pytest.mark.outside("worked by hand from omega^2 = g k tanh(k h)", quantity="slosh")
def test_a_box_along_and_across():
    """150 x 80 mm and 30 mm deep: k h = 0.6283 and 1.1781."""
    x, y, _ = swings(tank(), 0.15 * 0.08 * 0.03)
    assert x == pytest.approx(math.sqrt(G * math.pi / 0.15 * 0.55688), rel=1e-4)
    assert y == pytest.approx(math.sqrt(G * math.pi / 0.08 * 0.82697), rel=1e-4)


def test_a_box_on_its_side_swings_between_other_walls():
    """Starboard down: the width is its depth, and the height one of the walls."""
    _, _, z = swings(tank(), 0.15 * 0.06 * 0.02, gravity_body(0.0, 0.5 * math.pi)[None])
    assert z == pytest.approx(math.sqrt(G * math.pi / 0.06 * math.tanh(math.pi / 3.0)), rel=1e-9)


@pytest.mark.outside("Abramson, NASA SP-106, 1966, from memory: upright cylinder", quantity="slosh")
def test_an_upright_cylinder():
    """R = 50 mm, h = R: omega^2 R / g = 1.8412 tanh(1.8412) = 1.7508."""
    round_one = tank(Cylinder(at=(0.0, 0.0, 0.0), length=0.2, diameter=0.1, axis="z"))
    x, y, _ = swings(round_one, math.pi * 0.05**3)
    assert x == y
    assert x**2 * 0.05 / G == pytest.approx(1.7508, abs=5e-4)


@pytest.mark.outside("McIver, J. Fluid Mech. 201, 1989, from memory: 1.3557", quantity="slosh")
def test_across_a_lying_cylinder_half_full():
    """omega^2 R / g = 1.3557; two walls as far apart as the surface is wide give 1.325."""
    lying = tank(Cylinder(at=(0.0, 0.0, 0.0), length=0.3, diameter=0.1, axis="x"))
    x, y, _ = swings(lying, 0.5 * math.pi * 0.05**2 * 0.3)
    assert y**2 * 0.05 / G == pytest.approx(1.3557, rel=0.03)
    depth = 0.25 * math.pi * 0.05
    assert x == pytest.approx(
        math.sqrt(G * math.pi / 0.3 * math.tanh(math.pi * depth / 0.3)), rel=1e-3
    )


def test_a_baffle_halves_the_length():
    """Two compartments, each half as long."""
    cut = swings(tank(baffles=(Baffle(at=0.0),)), 0.15 * 0.08 * 0.03)
    assert cut[0] == pytest.approx(
        math.sqrt(G * 2.0 * math.pi / 0.15 * math.tanh(1.2566)), rel=1e-4
    )
    assert cut[1] == swings(tank(), 0.15 * 0.08 * 0.03)[1]


def test_nothing_swings_in_foam_brim_full_or_empty():
    """A surface is needed."""
    volume = 0.15 * 0.08 * 0.06 * np.array([0.0, 0.5, 1.0])
    assert swings_at_all(tank(), volume).tolist() == [False, True, False]
    assert not swings_at_all(tank(foam=True), volume).any()


def braked(seconds=40.0, pitch=-20.0):
    """Level, then braked, then level."""
    return profile_of(
        "braked",
        [
            Phase(name="level", duration=seconds, throttle=1.0),
            Phase(name="nose down", duration=10.0, throttle=1.0, pitch=math.radians(pitch)),
            Phase(name="level again", duration=20.0, throttle=1.0),
        ],
    )


def sloshing(layout, damping=0.05):
    """The same layout with slosh."""
    return replace(layout, simulation=Simulation(slosh=True, slosh_damping=damping))


def test_the_surface_passes_its_rest_as_a_damped_swing_does():
    """By 0.85 of the step of 20 degrees: 35.5 degrees; by 0.81 or more where pieces show it."""
    layout, profile = sloshing(single()), braked()
    still = flown(single(), profile)
    pieced = with_slosh(layout, still.profile, still.history)
    assert pieced.length == pytest.approx(profile.length)
    lies = np.degrees(np.arctan2(pieced.surface[:, 0, 0], -pieced.surface[:, 0, 2]))
    begins = np.cumsum(pieced.duration) - pieced.duration
    assert (lies[begins < 39.9] == 0.0).all()
    assert -35.5 < lies.min() < -31.6
    assert lies[(begins > 48.0) & (begins < 49.9)] == pytest.approx(-20.0, abs=3.0)
    assert lies[-1] == pytest.approx(0.0, abs=0.1)


def test_slosh_uncovers_a_pickup_that_the_attitude_alone_does_not():
    """In mid-tank nothing happens; at the aft wall the swing past the rest bares it for a while."""
    middle, aft = (single(rest=rest, fill=0.45) for rest in ((0, 0, -28), (72, 0, -28)))
    profile = braked(15.0, -10.0)
    for layout, bared in ((middle, False), (aft, True)):
        one = flown(sloshing(layout), profile)
        assert one.uncovered_still["main.feed"] == 0.0
        assert (one.uncovered["main.feed"] > 0.05) is bared
        assert one.on_board == pytest.approx(
            sum(one.books.burnt.values()) + sum(one.books.left.values()), rel=1e-9
        )


def test_more_damping_bares_it_for_less_time():
    """Down to none with critical damping or nearly so."""
    layout = single(rest=(72, 0, -28), fill=0.45)
    times = [
        flown(sloshing(layout, damping), braked(15.0, -10.0)).uncovered["main.feed"]
        for damping in (0.05, 0.2, 0.9)
    ]
    assert times[0] > times[1] >= times[2] == 0.0


def test_the_file_and_the_option_ask_for_slosh(tmp_path):
    """Both fly alike; the text says what it does to pickups, and what is assumed."""
    drawn = Path("layouts/single-main.yaml").read_text()
    short = "\nsimulation: {slosh: yes, slosh-damping: 50 %}\n"
    (tmp_path / "on.yaml").write_text(drawn + short)
    (tmp_path / "off.yaml").write_text(drawn + short.replace("yes", "no"))
    by_file = api.fly(tmp_path / "on.yaml")
    by_option = api.fly(tmp_path / "off.yaml", slosh=True)
    assert by_file.uncovered == by_option.uncovered
    said = " ".join(fly_text(api.load(tmp_path / "on.yaml"), by_file).split())
    assert "Slosh" in said
    assert "damping 50% of the critical" in said
    assert api.fly(tmp_path / "off.yaml").profile.surface is None
