import numpy as np
import pytest

from plumbing.geometry import solids
from plumbing.geometry.mesh import Mesh, centred, face_normals, transformed, welded

SHAPES = {
    "box": solids.box((0.3, 0.1, 0.2)),
    "cylinder": solids.cylinder(0.3, 0.1, "y"),
    "capsule": solids.capsule(0.3, 0.1, "z"),
    "short capsule": solids.capsule(0.11, 0.1),
    "sphere as a capsule": solids.capsule(0.1, 0.1),
    "ellipsoid": solids.ellipsoid((0.3, 0.1, 0.2)),
    "concave prism": solids.prism(
        (0.0, 0.4), [[(0, 0), (0.1, 0), (0.1, 0.1), (0.05, 0.02), (0, 0.1)]] * 2
    ),
    "frustum": solids.prism(
        (0.3, 0.0), [[(1, 1), (-1, 1), (-1, -1), (1, -1)], [(2, 2), (-2, 2), (-2, -2), (2, -2)]]
    ),
}


@pytest.mark.outside("solid geometry, exact formulas", quantity="volume of a solid")
@pytest.mark.parametrize(
    ("shape", "volume"),
    [
        ("box", 0.006),
        ("cylinder", np.pi * 0.05**2 * 0.3),
        ("capsule", np.pi * 0.05**2 * 0.2 + np.pi / 6 * 0.1**3),
        ("short capsule", np.pi * 0.05**2 * 0.01 + np.pi / 6 * 0.1**3),
        ("sphere as a capsule", np.pi / 6 * 0.1**3),
        ("ellipsoid", np.pi / 6 * 0.006),
        ("concave prism", 0.4 * (0.01 - 0.5 * 0.1 * 0.08)),
        ("frustum", 0.3 / 3 * (4 + 16 + 8)),
    ],
)
def test_a_mesh_holds_what_its_formula_says(shape, volume):
    """The mesh encloses the exact volume, curved or not."""
    assert SHAPES[shape].volume == pytest.approx(volume, rel=1e-12)


@pytest.mark.parametrize("shape", SHAPES)
def test_meshes_are_closed_and_face_outwards(shape):
    """Every edge is run once each way, and the normals add up to nothing."""
    mesh = SHAPES[shape]
    edges = mesh.faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    assert len(np.unique(edges, axis=0)) == len(edges)
    there = {tuple(edge) for edge in edges.tolist()}
    assert there == {(b, a) for a, b in there}
    assert face_normals(mesh).sum(axis=0) == pytest.approx(np.zeros(3), abs=1e-12)
    assert mesh.volume > 0.0
    assert len(mesh.faces) <= 2000


@pytest.mark.parametrize("shape", ["box", "cylinder", "capsule", "short capsule", "ellipsoid"])
def test_round_and_square_shapes_are_centred(shape):
    """Box, cylinder, capsule and ellipsoid have their centre at the origin."""
    mesh = SHAPES[shape]
    assert mesh.middle == pytest.approx(np.zeros(3), abs=1e-12)
    assert mesh.centroid == pytest.approx(np.zeros(3), abs=1e-9)


@pytest.mark.parametrize(
    ("shape", "size"),
    [
        ("cylinder", (0.1, 0.3, 0.1)),
        ("capsule", (0.1, 0.1, 0.3)),
        ("ellipsoid", (0.3, 0.1, 0.2)),
    ],
)
def test_facets_stand_little_proud(shape, size):
    """The raised corners leave the outer dimensions within one percent."""
    assert SHAPES[shape].size == pytest.approx(size, rel=1e-2)


@pytest.mark.outside("centroid of a pyramid frustum, exact formula", quantity="centroid")
def test_centroid_of_a_frustum():
    """The centre of a frustum lies h/4 (a2 + 2ab + 3b2)/(a2 + ab + b2) from its wide end."""
    a, b, h = 4.0, 2.0, 0.3
    from_wide = h / 4 * (a**2 + 2 * a * b + 3 * b**2) / (a**2 + a * b + b**2)
    assert SHAPES["frustum"].centroid == pytest.approx((from_wide, 0, 0), abs=1e-12)


def test_a_prism_keeps_its_coordinates_until_centred():
    """Stations and corners are where the file puts them; centring is asked for."""
    mesh = SHAPES["concave prism"]
    assert mesh.bounds == pytest.approx(np.array([[0, 0, 0], [0.4, 0.1, 0.1]]))
    assert centred(mesh).middle == pytest.approx(np.zeros(3), abs=1e-15)


def test_a_mirrored_mesh_still_faces_outwards():
    """A mirror image keeps its positive volume."""
    mirrored = transformed(SHAPES["concave prism"], np.diag([1.0, -1.0, 1.0]), (1, 2, 3))
    assert mirrored.volume == pytest.approx(SHAPES["concave prism"].volume)


def test_triangle_soup_is_welded():
    """A mesh torn into single triangles comes back with shared vertices."""
    mesh = SHAPES["cylinder"]
    soup = mesh.vertices[mesh.faces].reshape(-1, 3)
    joined = welded(soup, np.arange(len(soup)).reshape(-1, 3))
    assert len(joined.vertices) == len(mesh.vertices)
    assert joined.volume == pytest.approx(mesh.volume, rel=1e-7)
    assert isinstance(joined, Mesh)
