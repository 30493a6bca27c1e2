"""Solids parted by walls, and the passages through them."""

import numpy as np
import pytest
from blocks import of_blocks

from plumbing.geometry import solids
from plumbing.geometry.below import volume_below
from plumbing.geometry.faults import faults_of
from plumbing.geometry.mesh import face_normals
from plumbing.geometry.parted import Passages, parted
from plumbing.geometry.pockets import pockets

DOWN = np.array([[0.0, 0.0, -1.0]])
RING = of_blocks([np.array([0.0, 0.1, 0.2, 0.3])] * 3, ~np.pad(np.ones((1, 1, 1), bool), 1))


def holes(*rows):
    """Passages from rows of x, y, z, diameter [m]."""
    table = np.array(rows, float)
    return Passages(table[:, :3], 0.5 * table[:, 3])


@pytest.mark.outside("second method: the solid below a plane on edge", quantity="pieces of a solid")
@pytest.mark.parametrize(
    "mesh",
    [
        solids.box((0.3, 0.1, 0.2)),
        solids.capsule(0.3, 0.1),
        solids.prism([0.0, 0.1, 0.3], [[(0, 0), (0.1, 0), (0.05, 0.02), (0, 0.1)]] * 3),
        RING,
    ],
    ids=["box", "capsule", "prism", "box round a box"],
)
@pytest.mark.parametrize("share", [0.1, 1.0 / 3.0, 0.5, 0.77])
def test_pieces_are_closed_and_hold_what_the_solid_holds(mesh, share):
    """Each piece is closed and holds what the solid holds on its side of the wall."""
    low, high = mesh.bounds[:, 0]
    x = low + share * (high - low)
    both = parted(mesh, [x])
    assert faults_of(both) == []
    assert both.volume == pytest.approx(mesh.volume, rel=1e-12)
    along, facing = both.vertices[both.faces][:, :, 0], face_normals(both)[:, 0]
    fore = (along.max(axis=1) <= x + 2e-5) & ((along.min(axis=1) < x - 2e-5) | (facing > 0.0))
    piece = type(both)(both.vertices, both.faces[fore])
    expected = volume_below(mesh, np.array([[-1.0, 0.0, 0.0]]), x)[0]
    assert piece.volume == pytest.approx(expected, rel=3e-4)


@pytest.mark.outside("hand: boxes up to the sill of a hole", quantity="fuel in compartments")
@pytest.mark.parametrize("pitch", np.linspace(-16.0, 30.0, 30))
def test_a_hole_is_a_ridge_at_its_sill(pitch):
    """A box parted in two holds on each side what lies below the hole's lowest point there."""
    mesh = parted(solids.box((0.3, 0.1, 0.1)), [0.05])
    slope = np.tan(np.radians(pitch))
    down = np.array([[np.sin(np.radians(pitch)), 0.0, -np.cos(np.radians(pitch))]])
    found = pockets(mesh, down, 0.0, holes((0.05, 0.0, 0.0, 0.02)))
    assert found.tree.count[0] == 2
    at = [(-0.1, 0.0, 0.0), (0.1, 0.0, 0.0)]
    fore, aft = found.tree.basin_at(np.array(at), np.zeros(2, int))

    def wedge(length, wall):  # `wall`: depth at the baffle; it falls or rises along the length
        far = wall - slope * length
        if far >= 0.0:
            return 0.5 * (wall + far) * length * 0.1
        return 0.5 * wall * wall / slope * 0.1

    assert found.holds[0, fore] == pytest.approx(wedge(0.2, 0.04), rel=1e-9)
    slope = -slope
    assert found.holds[0, aft] == pytest.approx(wedge(0.1, 0.04), rel=1e-9)


def test_without_a_hole_fuel_goes_over_only_when_a_piece_is_full():
    """A wall without a hole keeps its side's fuel up to the very top."""
    mesh = parted(solids.box((0.2, 0.1, 0.1)), [0.0, 0.05])
    found = pockets(mesh, DOWN, 0.0, Passages(np.zeros((0, 3)), np.zeros(0)))
    assert found.tree.count[0] == 3
    assert sorted(found.holds[0, :3]) == pytest.approx([0.0005, 0.0005, 0.001], rel=3e-4)


def test_a_hole_at_the_floor_makes_one_pool():
    """Compartments with a wide hole at the floor have one level."""
    mesh = parted(solids.box((0.2, 0.1, 0.1)), [0.0])
    found = pockets(mesh, DOWN, 3e-4, holes((0.0, 0.0, -0.04, 0.02)))
    assert found.tree.most == 1
