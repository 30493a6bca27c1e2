"""Unusable fuel over attitude: wedges worked by hand, clunks, envelopes, worst attitudes."""

import itertools
import json
import math
from dataclasses import replace

import numpy as np
import pytest

from plumbing import api
from plumbing.errors import UsageError
from plumbing.layout import load, starter
from plumbing.model.flight import Felt, Flight, Phase
from plumbing.model.ground import Parking
from plumbing.model.tank import Box, Pickup, Port, Tank
from plumbing.network import survey
from plumbing.report.tilt_text import tilt_json, tilt_text
from plumbing.simulation.tilt import tilt, unusable

LONG, BROAD, HIGH = 0.3, 0.12, 0.1
BORE = 4e-3


@pytest.fixture(scope="module")
def layout(tmp_path_factory):
    """An aircraft with a main tank and a header."""
    path = tmp_path_factory.mktemp("layout") / "one.yaml"
    path.write_text(starter("single-main"))
    return load(path)


def box(**port):
    """A box tank about the origin with one port."""
    port = {"at": (0.0, 0.0, HIGH / 2), "bore": BORE, **port}
    return Tank(
        name="box",
        shape=Box(at=(0.0, 0.0, 0.0), size=(LONG, BROAD, HIGH)),
        ports={"feed": Port(name="feed", **port)},
        displaced=0.0,
    )


def left_in(layout, tank, pitch=0.0, roll=0.0):
    """Fuel below which it draws air at an attitude."""
    down = [math.sin(pitch), math.cos(pitch) * math.sin(roll), -math.cos(pitch) * math.cos(roll)]
    volume, _ = unusable(layout, tank, ("feed",), np.array([down]))
    return float(volume[0])


@pytest.mark.outside("hand: layer, wedge of a box", quantity="unusable fuel of a fixed pickup")
@pytest.mark.parametrize("height", [0.01, 0.03, 0.06])
def test_a_fixed_pickup_leaves_a_layer_when_level(layout, height):
    """Level, the fuel below the top of the opening stays: its area times its height."""
    rest = (LONG / 2, 0.0, -HIGH / 2 + height)
    tank = box(pickup=Pickup(kind="fixed", rest=rest))
    assert left_in(layout, tank) == pytest.approx(LONG * BROAD * (height + BORE / 2), rel=1e-9)


@pytest.mark.outside("hand: triangle under a tilted surface", quantity="wedge of unusable fuel")
@pytest.mark.parametrize("degrees", [-3.0, -6.0, -10.0, -15.0])
def test_a_pickup_aft_leaves_a_wedge_nose_down(layout, degrees):
    """Nose down with the pickup in the aft lower corner, a wedge over the floor stays forward.

    The surface passes half a bore above the corner, square to gravity. Along the floor it rises
    forward, so that the fuel under it is a trapezium in side view: heights h at the aft wall and
    h + L tan(pitch) at the forward wall, as long as both are below the lid.
    """
    pitch = math.radians(degrees)
    aft = (BORE / 2) / math.cos(pitch)
    forward = aft + LONG * math.tan(-pitch)
    assert forward < HIGH, "the closed form holds below the lid"
    tank = box(pickup=Pickup(kind="fixed", rest=(LONG / 2, 0.0, -HIGH / 2)))
    wedge = BROAD * LONG * (aft + forward) / 2
    assert left_in(layout, tank, pitch) == pytest.approx(wedge, rel=1e-9)


@pytest.mark.outside("hand: half a box", quantity="wedge of unusable fuel")
def test_a_pickup_in_the_upper_corner_inverted(layout):
    """Upside down a pickup at the floor is at the top: all but nothing is unusable."""
    tank = box(pickup=Pickup(kind="fixed", rest=(0.0, 0.0, -HIGH / 2)))
    assert left_in(layout, tank, 0.0, math.pi) == pytest.approx(LONG * BROAD * HIGH, rel=1e-9)


@pytest.mark.parametrize("roll", [20.0, 45.0, 90.0, 135.0])
@pytest.mark.parametrize("pitch", [-70.0, -30.0, 15.0, 60.0])
def test_a_clunk_that_reaches_all_corners_leaves_next_to_nothing(layout, pitch, roll):
    """A clunk of no size with hose to every corner leaves only what is below its own bore."""
    reach = math.hypot(LONG / 2, BROAD / 2, HIGH)
    tank = box(pickup=Pickup(kind="clunk", reach=reach * 1.001))
    left = left_in(layout, tank, math.radians(pitch), math.radians(roll))
    assert left < 2e-3 * LONG * BROAD * HIGH


def test_a_short_clunk_leaves_more(layout):
    """The shorter the hose, the more stays, at any attitude."""
    attitudes = [(0.3, 0.2), (-0.9, 0.4), (1.2, -2.0), (0.05, 3.0)]
    for pitch, roll in attitudes:
        left = [
            left_in(layout, box(pickup=Pickup(kind="clunk", reach=reach)), pitch, roll)
            for reach in (0.04, 0.08, 0.12, 0.16, 0.2)
        ]
        assert all(a >= b - 1e-12 for a, b in itertools.pairwise(left))


def test_a_symmetric_tank_has_a_symmetric_map(layout):
    """A tank and pickup that are alike to port and starboard are alike in both rolls."""
    tank = box(pickup=Pickup(kind="fixed", rest=(0.1, 0.0, -0.04)))
    for pitch, roll in [(0.2, 0.5), (-1.0, 2.0)]:
        one, two = (left_in(layout, tank, pitch, side * roll) for side in (1, -1))
        assert one == pytest.approx(two, rel=1e-9)


def test_displaced_share_counts(layout):
    """Foam and baffles take their share of what stays as of what the tank holds."""
    tank = box(pickup=Pickup(kind="fixed", rest=(0.0, 0.0, -0.02)))
    whole, half = left_in(layout, tank), left_in(layout, replace(tank, displaced=0.5))
    assert half == pytest.approx(0.5 * whole, rel=1e-12)


def test_map_of_a_layout(layout):
    """Every feeding tank has a map between nothing and its capacity; all together is the sum."""
    found = tilt(layout, survey(layout), grid=(13, 25))
    assert set(found.tanks) == set(layout.tanks)
    assert found.unusable.shape == (len(found.tanks), 13, 25)
    assert (found.unusable >= 0.0).all()
    assert (found.unusable <= found.capacity[:, None, None]).all()
    total = sum(found.over(tank) for tank in found.tanks)
    np.testing.assert_allclose(found.over(), total)
    assert found.level() == pytest.approx(found.over()[6, 12])
    ends = found.over()[[0, -1]]
    np.testing.assert_allclose(ends, ends[:, :1] * np.ones(25), rtol=1e-6, atol=1e-12)


def test_worst_are_within_what_is_flown_and_parked(layout):
    """The worst attitudes come from the flights and the parking places, worst first."""
    phases = (
        Phase(name="level", duration=60.0, throttle=0.5),
        Phase(name="knife edge", duration=4.0, throttle=1.0, roll=math.pi / 2),
        Phase(name="pull", duration=2.0, throttle=1.0, felt=Felt(up=5.0)),
    )
    changed = replace(
        layout,
        flights={"f": Flight(name="f", phases=phases)},
        parking={"in the car": Parking(name="in the car", kind="transport", pitch=1.2)},
    )
    found = tilt(changed, survey(changed))
    names = {one.name for one in found.worst(None, 99)}
    assert names == {"level", "knife edge", "transport, in the car"}
    volumes = [one.volume for one in found.worst(None, 99)]
    assert volumes == sorted(volumes, reverse=True)
    by_name = {one.name: one for one in found.worst(None, 99)}
    assert by_name["level"].seconds == 62.0  # a pull points the same way
    assert by_name["knife edge"].roll == pytest.approx(math.pi / 2)
    assert by_name["transport, in the car"].pitch == pytest.approx(1.2)
    assert by_name["transport, in the car"].parked
    assert len(found.worst(None, 2)) == 2


def test_usual_flight_where_none_is_stated(layout):
    """Without a flight the usual one is taken, and said."""
    found = tilt(replace(layout, flights={}), survey(layout), grid=(3, 5))
    assert found.assumed
    assert "assumed" in tilt_text(layout, found)


def test_tank_that_does_not_exist(layout):
    """An unknown tank is told with those there are."""
    with pytest.raises(UsageError, match="main"):
        api.tilt(layout, "mian")


def test_reports(layout):
    """Text fits 80 columns and names the tanks; JSON is complete and finite."""
    found = api.tilt(layout)
    text = tilt_text(layout, found)
    assert max(map(len, text.splitlines())) <= 80
    assert all(tank in text for tank in found.tanks)
    data = json.loads(tilt_json(layout, found))
    assert len(data["pitch_rad"]) == 37
    assert len(data["all"]["unusable_m3"][0]) == 73
    assert set(data["tanks"]) == set(found.tanks)
    assert len(data["all"]["worst"]) == 5
