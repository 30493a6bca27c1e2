import numpy as np
import pytest

from plumbing.geometry import solids
from plumbing.geometry.attitude import direction
from plumbing.geometry.envelope import attitude_grid
from plumbing.geometry.inset import contains, inset
from plumbing.geometry.pickup import clunk_position

BOX = solids.box((0.3, 0.1, 0.1))
PORT = np.array([-0.15, 0.0, 0.0])
SHAPES = [BOX, solids.cylinder(0.3, 0.1), solids.ellipsoid((0.3, 0.1, 0.12))]


@pytest.mark.outside("hand limits: Pythagoras in a box", quantity="place of a clunk")
@pytest.mark.parametrize(
    ("reach", "down", "expected"),
    [
        (0.03, (0, 0, -1), (-0.15, 0.0, -0.03)),  # hangs along the front wall
        (0.2, (1, 0, 0), (0.05, 0.0, 0.0)),  # hangs free, straight aft
        (0.13, (0.6, 0, -0.8), (-0.03, 0.0, -0.05)),  # on the floor: sqrt(0.13^2 - 0.05^2)
        (1.0, (0.6, 0.1, -0.7), (0.15, 0.05, -0.05)),  # reaches the far corner
        (0.105, (6, 2, -3), (-0.06, 0.03, -0.045)),  # free, slantwise: 6, 2, 3 in 7
    ],
)
def test_a_clunk_lies_at_the_lowest_place_in_reach(reach, down, expected):
    """Free, on a wall, on an edge or in a corner: where the string lets it fall."""
    found = clunk_position(BOX, PORT, reach, direction(down))
    assert found[0] == pytest.approx(expected, abs=1e-6)


@pytest.mark.outside("second method: the lowest of 4 000 random points", quantity="clunk depth")
@pytest.mark.parametrize("mesh", SHAPES, ids=["box", "cylinder", "ellipsoid"])
@pytest.mark.parametrize("reach", [0.06, 0.15, 0.4])
def test_no_point_within_reach_is_lower(mesh, reach):
    """No random point of the solid within reach lies lower, and the clunk is within reach."""
    rng = np.random.default_rng(5)
    down = direction(rng.normal(size=(100, 3)))
    points = rng.uniform(*mesh.bounds, size=(4000, 3))
    points = points[contains(mesh, points)]
    points = points[np.linalg.norm(points - PORT, axis=1) <= reach]
    found = clunk_position(mesh, PORT, reach, down)
    ahead = np.einsum("di,di->d", found, down) - (down @ points.T).max(axis=1)
    assert ahead.min() >= -1e-12
    assert ahead.max() < 0.02
    assert np.linalg.norm(found - PORT, axis=1).max() <= reach + 1e-12


def test_clearance_keeps_the_opening_off_the_walls():
    """Half a clunk's diameter stays between its opening and every wall it lies on."""
    found = clunk_position(BOX, PORT, 1.0, direction((0.6, 0.1, -0.7)), clearance=0.008)
    assert found[0] == pytest.approx((0.142, 0.042, -0.042), abs=1e-12)
    assert inset(BOX, 0.01).size == pytest.approx(BOX.size - 0.02)
    assert inset(BOX, 1.0).volume > 0.0
    round_tank = inset(SHAPES[1], 0.01)
    assert round_tank.size == pytest.approx((0.28, 0.08, 0.08), abs=3e-4)


def test_a_port_out_of_reach_of_everything_stays_put():
    """A hose too short to enter the tank leaves the clunk at the port."""
    outside = np.array([-0.2, 0.0, 0.0])
    assert clunk_position(BOX, outside, 0.01, (0.0, 0.0, -1.0)) == pytest.approx(outside[None])


def test_inside_is_told_from_outside():
    """A concave saddle has its notch outside."""
    saddle = [(-0.1, 0.0), (-0.1, -0.1), (-0.04, -0.1), (-0.04, -0.02), (0.04, -0.02)]
    saddle += [(0.04, -0.1), (0.1, -0.1), (0.1, 0.0)]
    mesh = solids.prism((-0.1, 0.1), [saddle, saddle])
    points = [(0, 0, -0.01), (0, 0.07, -0.09), (0, 0, -0.05), (0.2, 0, -0.01)]
    assert contains(mesh, points).tolist() == [True, True, False, False]


def test_a_map_of_attitudes():
    """The grid runs over pitch and, faster, roll; its middle is level."""
    grid = attitude_grid((-0.4, 0.4), (-1.0, 1.0), (3, 5))
    assert grid.down.shape == (15, 3)
    assert grid.down[7] == pytest.approx((0, 0, -1))
    assert grid.down[10, 0] > 0.0  # nose up: aft
    assert grid.down[9, 1] > 0.0  # starboard down: starboard
