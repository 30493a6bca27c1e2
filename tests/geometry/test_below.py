"""Volume below one plane, without tables, held to the tables and to hand values."""

import numpy as np
import pytest

from plumbing.geometry import solids
from plumbing.geometry.below import span, volume_below
from plumbing.geometry.cut import cut

RNG = np.random.default_rng(11)


def directions(count):
    """Directions spread over the sphere, the axes first."""
    vectors = RNG.normal(size=(count, 3))
    vectors[:6] = np.concatenate([np.eye(3), -np.eye(3)])
    return vectors / np.linalg.norm(vectors, axis=1, keepdims=True)


@pytest.mark.outside("second method: tables of `cut`", quantity="volume below a plane")
@pytest.mark.parametrize("share", [-0.1, 0.0, 0.001, 0.2, 0.5, 0.9, 1.0, 1.1])
@pytest.mark.parametrize(
    "mesh", [solids.box((0.3, 0.1, 0.2)), solids.capsule(0.3, 0.1)], ids=["box", "capsule"]
)
def test_the_tables_give_the_same(mesh, share):
    """One plane at a time or from tables, the volume below it is the same."""
    down = directions(60)
    heights, tables = span(mesh, down), cut(mesh, down, moments=False)
    np.testing.assert_allclose(heights.bottom, tables.bottom, atol=1e-12)
    np.testing.assert_allclose(heights.top, tables.top, atol=1e-12)
    level = heights.bottom + share * (heights.top - heights.bottom)
    found = volume_below(mesh, down, level)
    np.testing.assert_allclose(found, tables.volume_at(level), atol=1e-10 * mesh.volume)


@pytest.mark.outside("hand: corner of a cube cut at a", quantity="volume below a plane")
@pytest.mark.parametrize("leg", [0.1, 0.4, 0.9])
def test_corner_of_a_cube(leg):
    """A plane square to the diagonal cuts off a corner of leg a: a cubed over 6."""
    down = np.array([[1.0, 1.0, 1.0]]) / np.sqrt(3.0)
    corner = np.array([0.5, 0.5, 0.5])
    level = -down @ (corner - [leg, 0.0, 0.0])
    found = volume_below(solids.box((1.0, 1.0, 1.0)), down, level)
    assert found[0] == pytest.approx(leg**3 / 6, rel=1e-12)


def test_above_and_below_are_the_whole():
    """What is below a plane, and below it upside down, is the whole solid."""
    mesh, down = solids.capsule(0.3, 0.1), directions(40)
    level = RNG.uniform(-0.05, 0.05, 40)
    both = volume_below(mesh, down, level) + volume_below(mesh, -down, -level)
    np.testing.assert_allclose(both, mesh.volume, rtol=1e-10)
