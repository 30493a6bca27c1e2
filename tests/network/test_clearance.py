"""Distances to zones, held to cases whose answer is plain arithmetic."""

import math

import numpy as np
import pytest
from plumbing.network.clearance import clearance, gap_to_plane, tank_clearance

from plumbing.model.structure import Disc, Run, Zone
from plumbing.model.tank import Box, Capsule, Cylinder, Tank

CAN = Zone(name="can", kind="hot", body=Cylinder(at=(1.0, 0.0, 0.0), length=0.2, diameter=0.1))
TANK = Tank(name="main", shape=Box(at=(0.0, 0.0, 0.0), size=(0.3, 0.2, 0.1)), ports={})


def _zone(body):
    return Zone(name="zone", kind="hot", body=body)


@pytest.mark.parametrize(
    ("points", "expected"),
    [
        ([(0, 0.1, 0), (2, 0.1, 0)], 0.05),
        ([(0, 0, 0), (0.8, 0, 0)], 0.1),
        ([(0, 0, 0)], 0.9),
        ([(0, 0, 0), (2, 0, 0)], 0.0),
        ([(1.13, -1, 0.09), (1.13, 1, 0.09)], 0.05),
        ([(0, 5, 0), (0, 0.35, 0), (0.6, 0.35, 0)], 0.3 * math.sqrt(2)),
    ],
)
def test_chain_to_cylinder(points, expected):
    """Beside, end on, within and past the rim of a cylinder the distance is Pythagoras'."""
    assert clearance(points, CAN) == pytest.approx(expected, abs=2e-6)


def test_chain_to_turned_box():
    """A box rolled by 45 degrees stands with its edge up, half its diagonal above the middle."""
    box = _zone(Box(at=(0.0, 0.0, 0.0), size=(1.0, 0.2, 0.2), roll=math.pi / 4))
    level = [(-1, 0, 0.5), (1, 0, 0.5)]
    assert clearance(level, box) == pytest.approx(0.5 - 0.1 * math.sqrt(2), abs=2e-6)


def test_chain_to_loom():
    """Two crossing rods are apart by the distance of their axes less the loom's radius."""
    loom = _zone(Run(points=((-1, 0, 0), (1, 0, 0), (1, 5, 0)), diameter=0.01))
    assert clearance([(0, -1, 0.03), (0, 1, 0.03)], loom) == pytest.approx(0.025, abs=2e-6)


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        (Box(at=(0.02, 0.03, 0.2), size=(0.02, 0.02, 0.02)), 0.14),
        (Box(at=(0.02, 0.03, 0.0), size=(0.02, 0.02, 0.02)), 0.0),
        (Box(at=(0.0, 0.0, 0.0), size=(1.0, 1.0, 1.0)), 0.0),
        (Run(points=((-1, 0.2, 0.01), (1, 0.2, 0.01)), diameter=0.01), 0.095),
        (Disc(at=(0.3, 0.01, 0.01), radius=0.02), 0.15),
    ],
)
def test_tank_to_zone(body, expected):
    """Face to corner, one within the other, and side to rod: the tank's nearest point counts."""
    assert tank_clearance(TANK, _zone(body)) == pytest.approx(expected, abs=2e-6)


@pytest.mark.slow
def test_tank_distance_agrees_with_sampling():
    """No random point of a capsule's skin is nearer, and one is nearly as near."""
    tank = Tank(
        name="pod",
        shape=Capsule(at=(0.1, 0.0, 0.0), length=0.3, diameter=0.1, yaw=0.4, pitch=0.2),
        ports={},
    )
    box = _zone(Box(at=(0.2, 0.2, 0.15), size=(0.06, 0.05, 0.04), roll=0.3))
    from plumbing.model.meshes import tank_mesh

    mesh = tank_mesh(tank)
    rng = np.random.default_rng(7)
    corners = mesh.vertices[mesh.faces[rng.integers(len(mesh.faces), size=100_000)]]
    share = rng.dirichlet((1, 1, 1), size=len(corners))
    points = np.einsum("nk,nki->ni", share, corners)
    nearest = min(clearance(point, box) for point in points[_near(points, box)])
    gap = tank_clearance(tank, box)
    assert gap <= nearest + 1e-6
    assert nearest - gap < 1e-3


def _near(points, zone):
    gap = np.linalg.norm(points - zone.body.at, axis=1)
    return np.argsort(gap)[:2000]


def test_plane_gap():
    """A plane between the points is at distance zero, one beside them at that of the nearest."""
    wheel = _zone(Disc(at=(1.0, 0.0, 0.0), radius=0.05))
    assert gap_to_plane([(0.9, 0, 0), (1.1, 0, 0)], wheel) == 0.0
    assert gap_to_plane([(0.2, 0, 0), (0.96, 9, 0)], wheel) == pytest.approx(0.04)
    assert gap_to_plane([(1.5, 0, 0)], CAN) is None


def test_far_zone_is_only_known_to_be_far():
    """Beyond the distance of interest a lower bound is enough, and it is never above the truth."""
    box = _zone(Box(at=(0.0, 0.0, 1.0), size=(0.1, 0.1, 0.1)))
    assert 0.05 < tank_clearance(TANK, box, within=0.05) <= tank_clearance(TANK, box)
    assert tank_clearance(TANK, box) == pytest.approx(0.9, abs=2e-6)
