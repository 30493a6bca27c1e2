"""Tilted volumes and centres against clipping by hand and quadrature."""

import numpy as np
import pytest
from second_methods import by_segments, by_tetrahedra

from plumbing.geometry import solids
from plumbing.geometry.cut import cut

SADDLE = [(-0.1, 0.0), (-0.1, -0.1), (-0.04, -0.1), (-0.04, -0.02), (0.04, -0.02), (0.04, -0.1)]
SADDLE += [(0.1, -0.1), (0.1, 0.0)]
WEDGE = [(0.0, 0.0), (0.1, 0.0), (0.0, 0.05)]
POLYHEDRA = {
    "box": solids.box((0.3, 0.1, 0.1)),
    "flat box": solids.box((0.3, 0.2, 0.004)),
    "wedge": solids.prism((0.0, 0.2), [WEDGE, WEDGE]),
    "saddle": solids.prism((-0.1, 0.05, 0.1), [SADDLE, SADDLE, np.array(SADDLE) * 0.8]),
    "cylinder's mesh": solids.cylinder(0.3, 0.1),
}
TILTED = [
    (0.1, 0.0, -1.0),
    (0.0, -0.3, -1.0),
    (0.5, 0.4, -0.7),
    (1.0, 0.2, 0.3),
    (-0.2, 0.1, 1.0),
]
NEARLY_FLAT = [(10.0**-k, 3.0 * 10.0**-k, -1.0) for k in range(2, 18)]
SHARES = np.array([1e-7, 0.03, 0.25, 0.5, 0.8, 0.999])


def unit(vectors):
    """Vectors of length one."""
    vectors = np.asarray(vectors, float)
    return vectors / np.linalg.norm(vectors, axis=-1, keepdims=True)


@pytest.mark.outside("second method: clipped faces as cones", quantity="volume and centre")
@pytest.mark.parametrize("down", TILTED)
@pytest.mark.parametrize("shape", POLYHEDRA)
def test_tilted_polyhedra(shape, down):
    """Volume and centre agree with clipping face by face to 1e-9 of capacity."""
    mesh, down = POLYHEDRA[shape], unit(down)
    table = cut(mesh, down)
    level = table.bottom[:, None] + SHARES * (table.top - table.bottom)[:, None]
    volume, centre = table.volume_at(level)[0], table.centroid_at(level)[0]
    for k in range(len(SHARES)):
        expected, moment = by_tetrahedra(mesh, down, level[0, k])
        assert volume[k] == pytest.approx(expected, abs=1e-9 * mesh.volume)
        error = np.abs(moment - centre[k] * volume[k]).max()
        assert error <= 1e-9 * mesh.volume * mesh.size.max()


@pytest.mark.outside("second method: clipped faces as cones", quantity="volume, nearly level")
@pytest.mark.parametrize("shape", POLYHEDRA)
def test_nearly_level_floors_lose_nothing(shape):
    """Floors tilted by 1e-2 down to 1e-17 keep 1e-9 of capacity, also within the thin wedge."""
    mesh, down = POLYHEDRA[shape], unit(NEARLY_FLAT)
    table = cut(mesh, down)
    shares = np.concatenate([[1e-12, 1e-9, 1e-6, 1e-4], SHARES])
    level = table.bottom[:, None] + shares * (table.top - table.bottom)[:, None]
    volume = table.volume_at(level)
    for row, direction in enumerate(down[::3]):
        for k in range(len(shares)):
            expected, _ = by_tetrahedra(mesh, direction, level[3 * row, k])
            assert volume[3 * row, k] == pytest.approx(expected, abs=1e-9 * mesh.volume)


ROUND = {
    "cylinder": (solids.cylinder(0.3, 0.1), 0.15, lambda x: np.full_like(x, 0.05)),
    "flat cylinder": (solids.cylinder(0.02, 0.2), 0.01, lambda x: np.full_like(x, 0.1)),
    "capsule": (
        solids.capsule(0.3, 0.1),
        0.15,
        lambda x: np.sqrt(0.05**2 - np.maximum(np.abs(x) - 0.1, 0.0) ** 2),
    ),
    "short capsule": (
        solids.capsule(0.12, 0.1),
        0.06,
        lambda x: np.sqrt(0.05**2 - np.maximum(np.abs(x) - 0.01, 0.0) ** 2),
    ),
    "egg": (
        solids.ellipsoid((0.3, 0.1, 0.1)),
        0.15,
        lambda x: 0.05 * np.sqrt(1.0 - (x / 0.15) ** 2),
    ),
}


@pytest.mark.outside("second method: quadrature of circular segments", quantity="volume, centre")
@pytest.mark.parametrize("down", [*TILTED, (0.0, 0.0, -1.0), (1.0, 1e-6, 0.0)])
@pytest.mark.parametrize("shape", ROUND)
def test_tilted_round_solids(shape, down):
    """Volume and centre of curved solids agree with quadrature to 1e-4 of capacity and size."""
    mesh, half, radius = ROUND[shape]
    down = unit(down)
    table = cut(mesh, down)
    stations = np.linspace(-half, half, 20001)
    for share in (0.02, 0.1, 0.3, 0.5, 0.75, 0.95):
        level = table.bottom[0] + share * (table.top - table.bottom)[0]
        expected, moment = by_segments(stations, radius, down, level)
        volume = table.volume_at([level])[0]
        assert volume == pytest.approx(expected, abs=1e-4 * mesh.volume)
        error = np.abs(moment - table.centroid_at([level])[0] * volume).max()
        assert error <= 1e-4 * mesh.volume * mesh.size.max()


@pytest.mark.outside("volume of an ellipsoidal cap, affine image of a sphere's", quantity="volume")
@pytest.mark.parametrize("down", TILTED)
def test_tilted_ellipsoid(down):
    """A plane cuts a three-axis ellipsoid in the share it cuts of a sphere."""
    half, down = np.array([0.15, 0.05, 0.1]), unit(down)
    mesh = solids.ellipsoid(2.0 * half)
    reach = np.linalg.norm(half * down)
    share = np.linspace(-0.95, 0.95, 9)
    expected = mesh.volume * (2.0 + 3.0 * share - share**3) / 4.0
    got = cut(mesh, down).volume_at([share * reach])[0]
    assert got == pytest.approx(expected, abs=1e-4 * mesh.volume)
