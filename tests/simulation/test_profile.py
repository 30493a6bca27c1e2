"""Flights as arrays: order, repeats, signs, and the flights assumed where none is stated."""

import math
from dataclasses import replace

import numpy as np
import pytest
from flight_rigs import flown, single, steady

from plumbing.model.aircraft import Aircraft
from plumbing.model.flight import Felt, Phase
from plumbing.simulation.profile import profile_of
from plumbing.simulation.usual_flights import usual_phases, usual_profile

G = 9.80665


def test_groups_are_laid_out_in_order():
    """Groups repeat as wholes, inside each other too."""
    inner = Phase(repeat=2, phases=(Phase(name="b", duration=2.0), Phase(name="c", duration=3.0)))
    phases = [
        Phase(name="a", duration=1.0),
        Phase(repeat=2, phases=(inner, Phase(name="d", duration=4.0))),
        Phase(name="e", duration=5.0, repeat=3),
    ]
    profile = profile_of("x", phases)
    assert "".join(profile.phase) == "abcbcdbcbcdeee"
    assert profile.length == pytest.approx(1 + 2 * (2 * 5 + 4) + 15)


def test_no_flight_is_longer_than_memory():
    """A flight of millions of repeats is cut off at twenty thousand stretches."""
    group = Phase(repeat=1000, phases=(Phase(repeat=1000, phases=(Phase(duration=1.0),)),))
    assert len(profile_of("x", [group]).duration) == 20_000


@pytest.mark.outside("pilot's seat: what is not tied down falls that way", quantity="gravity felt")
@pytest.mark.parametrize(
    ("phase", "gravity"),
    [
        (Phase(), (0, 0, -1)),
        (Phase(pitch=math.pi / 2), (1, 0, 0)),
        (Phase(pitch=-math.pi / 2), (-1, 0, 0)),
        (Phase(roll=math.pi / 2), (0, 1, 0)),
        (Phase(roll=math.pi), (0, 0, 1)),
        (Phase(felt=Felt(forward=0.5)), (0.5, 0, -1)),
        (Phase(felt=Felt(forward=-0.4)), (-0.4, 0, -1)),
        (Phase(felt=Felt(starboard=0.2)), (0, -0.2, -1)),
        (Phase(felt=Felt(up=6.0)), (0, 0, -6)),
        (Phase(felt=Felt(up=-3.0)), (0, 0, 3)),
        (Phase(felt=Felt(up=0.0)), (0, 0, 0)),
    ],
)
def test_fuel_falls_the_way_loose_things_do(phase, gravity):
    """Take-off sends fuel aft, braking forward, a push to starboard to port, a pull down."""
    profile = profile_of("x", [replace(phase, duration=1.0)])
    assert profile.gravity[0] / G == pytest.approx(np.array(gravity, float), abs=1e-12)


def test_acceleration_moves_the_fuel_aft():
    """In a half-full tank the centre of gravity lies farther aft while accelerating."""
    aircraft = Aircraft(flown_as="sport", dry_mass=5.0, dry_cg=(0.0, 0.0, 0.0))
    layout = replace(single(fill=0.5), aircraft=aircraft)
    still, pushed, braked = (
        flown(layout, steady(10.0, felt=Felt(forward=forward))).history.cg[0, 0]
        for forward in (0.0, 0.5, -0.5)
    )
    assert braked < still < pushed


def test_chosen_stretches_keep_their_own():
    """Taking stretches by number, twice even, takes all that belongs to them."""
    profile = profile_of(
        "x", [Phase(name="a", duration=1.0, throttle=0.1), Phase(name="b", duration=2.0, roll=1.0)]
    )
    again = replace(profile, flow=np.array([1e-6, 2e-6])).only(np.array([1, 0, 1]))
    assert again.phase == ("b", "a", "b")
    assert again.duration.tolist() == [2.0, 1.0, 2.0]
    assert again.flow.tolist() == [2e-6, 1e-6, 2e-6]
    assert np.array_equal(again.gravity[0], profile.gravity[1])


@pytest.mark.outside("common practice", quantity="mean fuel flow by style")
@pytest.mark.parametrize(("style", "mean"), [("scale", 0.45), ("sport", 0.55), ("aerobatic", 0.70)])
def test_usual_flights_burn_what_their_style_does(style, mean):
    """Mean flow in the air is about 0.45 for scale, 0.55 for sport, 0.70 for aerobatic flying."""
    profile = usual_profile(style)
    aloft = profile.airborne
    found = profile.throttle[aloft] @ profile.duration[aloft] / profile.duration[aloft].sum()
    assert found == pytest.approx(mean, abs=0.05)
    assert 6.5 * 60 < profile.duration[aloft].sum() < 9.5 * 60
    assert profile.assumed
    assert usual_phases(style)[0].on_ground
