"""Plates with holes are closed and hold their outline less their holes."""

from math import pi

import numpy as np
import pytest
import trimesh

from plumbing.geometry.lathe import polygon_of
from plumbing.geometry.mesh import Mesh
from plumbing.geometry.passages import edge_distance
from plumbing.geometry.pierced import filled, pierced
from plumbing.geometry.polygon import signed_area

SQUARE = np.array([(0, 0), (1, 0), (1, 1), (0, 1)], float)
ROUND = polygon_of(24)


def is_closed(mesh: Mesh) -> bool:
    """Whether a second program finds a mesh closed and facing one way."""
    made = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    return bool(made.is_watertight and made.is_winding_consistent)


@pytest.mark.outside("area of a square less a circle, by hand", quantity="volume of a plate")
@pytest.mark.parametrize("aside", [0.0, 0.25])
def test_hole_straight_or_slanted(aside: float) -> None:
    """A hole takes its section times the thickness, also where it slants (Cavalieri)."""
    rim = 0.1 * ROUND + 0.5
    mesh = pierced(SQUARE, 0.0, 0.1, [(rim, rim + aside)])
    assert is_closed(mesh)
    assert mesh.volume == pytest.approx(0.1 * (1.0 - pi * 0.01), rel=1e-9)


@pytest.mark.slow
def test_many_holes_in_any_outline() -> None:
    """In stars with holes the triangles cover the outline less its holes, none twice."""
    rng = np.random.default_rng(1)
    tried = 0
    for _ in range(80):
        star, holes = _star(rng), []
        for *at, radius in rng.uniform([-0.6, -0.6, 0.02], [0.6, 0.6, 0.15], (20, 3)):
            apart = all(np.hypot(*np.subtract(at, c)) > 1.05 * (radius + r) for c, r in holes)
            if apart and edge_distance(star, [at])[0] > 1.05 * radius:
                holes.append((np.array(at), radius))
        tried += len(holes)
        loops = [star, *(at + radius * ROUND[::-1] for at, radius in holes)]
        points = np.concatenate(loops)
        areas = [signed_area(points[row]) for row in filled(loops)]
        wanted = signed_area(star) - sum(pi * radius**2 for _, radius in holes)
        assert sum(areas) == pytest.approx(wanted, abs=1e-9)
        assert sum(np.abs(areas)) == pytest.approx(wanted, abs=1e-6)
        rims = [(at + radius * ROUND,) * 2 for at, radius in holes]
        assert is_closed(pierced(star, 0.0, 1.0, rims))
    assert tried > 200


def _star(rng: np.random.Generator) -> np.ndarray:
    """A star about zero, counter-clockwise."""
    count = int(rng.integers(4, 14))
    angle = 2.0 * pi * (np.arange(count) + rng.uniform(0.0, 0.4, count)) / count
    ways = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    star: np.ndarray = ways * rng.uniform(0.5, 1.0, (count, 1))
    return star
