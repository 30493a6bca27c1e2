import re

import numpy as np
import pytest

from plumbing.geometry import solids
from plumbing.geometry.crossing import self_crossing
from plumbing.geometry.faults import faults_of
from plumbing.geometry.mesh import Mesh, transformed

BOX = solids.box((0.1, 0.2, 0.05))


def both(first, second):
    """Two meshes as one."""
    return Mesh(
        np.concatenate([first.vertices, second.vertices]),
        np.concatenate([first.faces, second.faces + len(first.vertices)]),
    )


@pytest.mark.parametrize(
    "mesh",
    [
        BOX,
        solids.cylinder(0.3, 0.1),
        solids.capsule(0.3, 0.1),
        solids.ellipsoid((0.3, 0.1, 0.2)),
        solids.prism((0, 0.1), [[(0, 0), (0.1, 0), (0.1, 0.1), (0.05, 0.01), (0, 0.1)]] * 2),
        both(BOX, transformed(BOX, np.eye(3), (0.3, 0.0, 0.0))),
    ],
)
def test_good_solids_have_no_faults(mesh):
    """Our own solids, and two that stand apart, are accepted."""
    assert faults_of(mesh) == []


@pytest.mark.parametrize(
    ("mesh", "words"),
    [
        (Mesh(BOX.vertices, BOX.faces[:-1]), "not closed: 3 edges"),
        (Mesh(BOX.vertices, BOX.faces[:, ::-1].copy()), "inside out"),
        (Mesh(BOX.vertices, np.vstack([BOX.faces[:1, ::-1], BOX.faces[1:]])), "opposite ways"),
        (Mesh(BOX.vertices, np.vstack([BOX.faces, BOX.faces[:1]])), "more than two"),
        (Mesh(BOX.vertices * (1, 1, 0), BOX.faces), "no volume"),
        (Mesh(BOX.vertices * 1000.0, BOX.faces), "is its unit right"),
        (Mesh(BOX.vertices * 1e-3, BOX.faces), "is its unit right"),
        (Mesh(BOX.vertices, BOX.faces[:2]), "at least 4"),
        (Mesh(BOX.vertices, BOX.faces + 1), "do not exist"),
        (Mesh(np.where(BOX.vertices > 0.09, np.nan, BOX.vertices), BOX.faces), "not numbers"),
        (both(BOX, transformed(BOX, np.eye(3), (0.03, 0.05, 0.01))), "crosses itself"),
        (both(BOX, transformed(BOX, np.eye(3), (0.05, 0.1, 0.025))), "crosses itself"),
    ],
)
def test_faults_are_named(mesh, words):
    """Each way a mesh can be bad is said in words."""
    assert words in "; ".join(faults_of(mesh))


def test_a_bow_tie_loft_crosses_itself():
    """A section turned half round against its neighbour makes walls that cross."""
    square = np.array([(0.05, 0.05), (-0.05, 0.05), (-0.05, -0.05), (0.05, -0.05)])
    assert len(self_crossing(solids.prism((0.0, 0.1), [square, -square]))) == 1


def test_a_body_inside_another_does_not_cross_it():
    """A small box within a large one touches nothing."""
    assert self_crossing(both(BOX, transformed(BOX, 0.5 * np.eye(3)))).size == 0


@pytest.mark.outside("hand: where it was made so", quantity="place of a fault in a mesh")
def test_the_place_of_a_fault_is_said():
    """A missing triangle, two boxes one in the other, a triangle turned: each with its place."""

    def near(mesh):
        (words,) = faults_of(mesh)
        return np.array([float(one) for one in re.findall(r"[xyz] (-?[0-9.e-]+)", words)]) / 1e3

    missing = BOX.vertices[BOX.faces[-1]]
    spot = near(Mesh(BOX.vertices, BOX.faces[:-1]))
    middles = 0.5 * (missing + np.roll(missing, 1, axis=0))
    assert np.abs(middles - spot).max(axis=1).min() < 1e-6
    aside = np.array([0.03, 0.05, 0.01])
    spot = near(both(BOX, transformed(BOX, np.eye(3), aside)))
    low, high = BOX.bounds
    assert ((low - 1e-6 <= spot) & (spot <= high + aside + 1e-6)).all()
    turned = Mesh(BOX.vertices, np.vstack([BOX.faces[:1, ::-1], BOX.faces[1:]]))
    corners = BOX.vertices[BOX.faces[0]]
    middles = 0.5 * (corners + np.roll(corners, 1, axis=0))
    assert np.abs(middles - near(turned)).max(axis=1).min() < 1e-6
