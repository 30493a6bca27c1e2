"""How long cutting solids takes; never asserted."""

import numpy as np
import pytest

from plumbing.geometry import solids
from plumbing.geometry.cut import cut
from plumbing.geometry.faults import faults_of
from plumbing.geometry.pickup import clunk_position

RNG = np.random.default_rng(7)


def directions(count):
    """Directions spread over the sphere."""
    vectors = RNG.normal(size=(count, 3))
    return vectors / np.linalg.norm(vectors, axis=1, keepdims=True)


def test_levels_in_a_box_in_ten_thousand_attitudes(benchmark):
    """A box: tables and one level for each of 10 000 directions."""
    mesh, down = solids.box((0.3, 0.1, 0.2)), directions(10_000)
    benchmark(lambda: cut(mesh, down, moments=False).level_for(0.5 * mesh.volume))


@pytest.mark.quick("False")
@pytest.mark.parametrize("moments", [False, True])
def test_levels_in_a_fine_mesh_in_a_thousand_attitudes(benchmark, moments):
    """About 2 000 triangles: tables and one level for each of 1 000 directions."""
    mesh, down = solids.prism(*_tube(25, 40)), directions(1000)
    assert len(mesh.faces) > 1900
    benchmark(lambda: cut(mesh, down, moments=moments).level_for(0.5 * mesh.volume))


def test_levels_for_a_hundred_thousand_scenarios(benchmark):
    """One table of 100 directions asked 100 000 times."""
    mesh = solids.capsule(0.3, 0.1)
    table = cut(mesh, directions(100))
    index = RNG.integers(0, 100, 100_000)
    volume = RNG.uniform(0.0, mesh.volume, 100_000)
    benchmark(table.level_for, volume, index)


def _tube(rings, corners):
    """Stations and sections of a bulging body."""
    along = np.linspace(-0.2, 0.2, rings)
    turn = np.linspace(0.0, 2.0 * np.pi, corners, endpoint=False)
    circle = np.stack([np.cos(turn), np.sin(turn)], axis=1)
    return along, (0.05 + 0.02 * np.cos(8.0 * along))[:, None, None] * circle


def test_clunk_in_a_thousand_attitudes(benchmark):
    """Where a clunk lies in a capsule, for 1 000 directions."""
    mesh, down = solids.capsule(0.3, 0.1), directions(1000)
    benchmark(clunk_position, mesh, np.array([-0.14, 0.0, 0.02]), 0.2, down, 0.006)


def test_searching_a_mesh_for_faults(benchmark):
    """About 5 000 triangles searched for open edges and crossings."""
    benchmark(faults_of, solids.prism(*_tube(60, 42)))
