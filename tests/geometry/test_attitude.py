import numpy as np
import pytest

from plumbing.geometry.attitude import (
    direction,
    gravity_body,
    rotation,
    specific_force_to_gravity,
)

G = 9.80665
DEG = np.pi / 180.0
HAND = "hand limit: a quarter turn swaps axes"


@pytest.mark.outside(HAND, quantity="effective gravity in body axes")
@pytest.mark.parametrize(
    ("pitch", "roll", "expected"),
    [
        (0, 0, (0, 0, -G)),
        (90, 0, (G, 0, 0)),
        (-90, 0, (-G, 0, 0)),
        (0, 90, (0, G, 0)),
        (0, -90, (0, -G, 0)),
        (0, 180, (0, 0, G)),
        (180, 0, (0, 0, G)),
        (30, 0, (G / 2, 0, -G * np.sqrt(0.75))),
    ],
)
def test_fuel_falls_to_the_low_end(pitch, roll, expected):
    """Nose up sends fuel aft, starboard down sends it to starboard, inverted sends it up."""
    assert gravity_body(pitch * DEG, roll * DEG) == pytest.approx(expected, abs=1e-12)


@pytest.mark.outside("hand limit: an accelerometer at rest reads +1 g up", quantity="load factor")
@pytest.mark.parametrize(
    ("load", "expected"),
    [
        ((0, 0, 1), (0, 0, -G)),
        ((0, 0, 0), (0, 0, 0)),
        ((0, 0, -1), (0, 0, G)),
        ((-0.5, 0, 1), (0.5 * G, 0, -G)),
        ((0, 0.2, 1), (0, -0.2 * G, -G)),
    ],
)
def test_load_factors_turn_into_gravity(load, expected):
    """Accelerating forwards presses fuel aft, to starboard presses it to port."""
    assert specific_force_to_gravity(*load) == pytest.approx(expected, abs=1e-12)


@pytest.mark.outside(HAND, quantity="rotation of a part")
@pytest.mark.parametrize(
    ("angles", "point", "expected"),
    [
        ((0, 90, 0), (-1, 0, 0), (0, 0, 1)),  # nose up: the front end rises
        ((90, 0, 0), (0, 1, 0), (0, 0, -1)),  # starboard down
        ((0, 0, 90), (-1, 0, 0), (0, 1, 0)),  # nose to starboard
        ((90, 90, 0), (0, 1, 0), (-1, 0, 0)),  # the wing rolled down then swings forward
    ],
)
def test_parts_turn_as_the_aircraft_does(angles, point, expected):
    """A quarter turn carries each end where the words say."""
    turned = rotation(*(np.array(angles) * DEG)) @ np.array(point, float)
    assert turned == pytest.approx(expected, abs=1e-12)


def test_gravity_is_the_turned_aircraft_seen_from_inside():
    """Gravity in body axes is level gravity turned back by the aircraft's own rotation."""
    rng = np.random.default_rng(3)
    pitch, roll, yaw = rng.uniform(-np.pi, np.pi, (3, 50))
    seen = np.swapaxes(rotation(roll, pitch, yaw), -1, -2) @ np.array([0.0, 0.0, -G])
    assert seen == pytest.approx(gravity_body(pitch, roll), abs=1e-12)


def test_rotations_keep_length_and_hand():
    """Every rotation matrix is orthogonal with determinant one."""
    rng = np.random.default_rng(4)
    matrix = rotation(*rng.uniform(-7, 7, (3, 40)))
    assert np.allclose(matrix @ np.swapaxes(matrix, -1, -2), np.eye(3), atol=1e-14)
    assert np.linalg.det(matrix) == pytest.approx(np.ones(40))


def test_weightless_falls_back_to_level():
    """Where nothing pulls, the direction is the level one, never a division by zero."""
    assert direction([[0.0, 0.0, 0.0], [0.0, 3.0, 0.0]]) == pytest.approx(
        np.array([[0, 0, -1], [0, 1, 0]])
    )
