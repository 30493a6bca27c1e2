"""Surfaces of bodies hold the volume that arithmetic gives them, and are closed."""

from math import hypot, pi

import numpy as np
import pytest
import trimesh

from plumbing.geometry import solids
from plumbing.geometry.bodies import Body, cylinder, solid, tube
from plumbing.geometry.surface import surface

HAND = "volumes of prisms, cylinders and balls by hand"
ELL = [(0, 0), (2, 0), (2, 1), (1, 1), (1, 2), (0, 2)]
BENT = [(0, 0, 0), (1, 0, 0), (1, 1, 0), (1.5, 2, 1)]
BACK = [(0, 0, 0), (1, 0, 0), (0.2, 0.1, 0)]
CASES = [
    ("rod with round ends", tube([(0, 0, 0), (1, 0, 0)], 0.1), False, pi * 0.01 + pi * 0.004 / 3),
    ("tube with flat ends", tube([(0, 0, 0), (3, 4, 0)], 0.1), True, pi * 0.01 * 5),
    # mitred corners: the section times the length of the centre line
    ("bent tube", tube(BENT, 0.1), True, pi * 0.01 * (2 + 1.5)),
    # a corner sharper than square: two rods, a half ball on each
    ("tube bent back", tube(BACK, 0.1), True, pi * 0.01 * (1 + hypot(0.8, 0.1)) + pi * 0.004 / 3),
    ("ball", tube((1, 2, 3), 0.5), False, pi / 6),
    ("capsule of no length", tube([(1, 2, 3), (1, 2, 3)], 0.5), False, pi / 6),
    ("cylinder with a wall", cylinder((1, 2, 3), (0, 0, 1), 2, 0.5, 0.1), False, pi * 0.36 * 2.2),
    ("disc shown 1 mm thick", cylinder((1, 2, 3), (0, 1, 0), 0, 0.5), False, pi * 0.25 * 1e-3),
    ("box with a wall", solid(solids.box((1, 2, 3)), 0.1), False, 1.2 * 2.2 * 3.2),
    # the hollow corner of an L moves out as well: 2.2 x 1.2 and 1.2 x 1.0
    ("L with a wall", solid(solids.prism([0, 1], [ELL, ELL]), 0.1), False, 1.2 * 3.84),
]


@pytest.mark.outside(HAND, quantity="volume of a body's surface")
@pytest.mark.parametrize(
    ("body", "flat", "volume"), [row[1:] for row in CASES], ids=[row[0] for row in CASES]
)
def test_volume_by_hand(body: Body, flat: bool, volume: float) -> None:
    """The mesh is closed, faces outwards, and holds what the formula says."""
    mesh = surface(body, flat)
    made = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    assert made.is_watertight
    assert made.is_winding_consistent
    assert mesh.volume == pytest.approx(volume, rel=1e-9)


def test_round_wall_grows_all_round() -> None:
    """A ball of 1 m with a wall of 0.1 m holds what one of 1.2 m does, to its facets."""
    mesh = surface(solid(solids.ellipsoid((1, 1, 1)), 0.1))
    assert mesh.volume == pytest.approx(pi / 6 * 1.2**3, rel=2e-3)


def test_tip_of_a_needle_stays_near() -> None:
    """The tip of a wedge of 11 deg moves by four walls; its faces meet again ten walls off."""
    wedge = solids.prism([0, 1], [[(0, 0), (1, 0), (1, 0.2)]] * 2)
    moved = np.linalg.norm(surface(solid(wedge, 0.01)).vertices - wedge.vertices, axis=1)
    assert moved.max() <= 0.04 + 1e-12
    assert moved.min() >= 0.01 - 1e-12
