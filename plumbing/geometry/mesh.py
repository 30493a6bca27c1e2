"""Closed triangle meshes: the one form every solid takes."""

from collections.abc import Iterable

import numpy as np
from numpy.typing import ArrayLike

from plumbing.frozen import frozen
from plumbing.physics.arrays import Array, Flags, Indices


@frozen(eq=False)
class Mesh:
    """A closed surface of triangles, counter-clockwise seen from outside.

    Attributes
    ----------
    vertices : Array
        Points [m], shape (V, 3).
    faces : Indices
        Vertex numbers of each triangle, shape (F, 3).
    """

    vertices: Array
    faces: Indices

    @property
    def volume(self) -> float:
        """Enclosed volume [m3]; negative if the triangles face inwards."""
        return float(_tetrahedra(self).sum() / 6.0)

    @property
    def centroid(self) -> Array:
        """Centre of the enclosed volume [m], shape (3,)."""
        middle = self.middle
        corners = self.vertices[self.faces] - middle
        sixfold = np.einsum("fi,fi->f", corners[:, 0], np.cross(corners[:, 1], corners[:, 2]))
        centre: Array = middle + sixfold @ corners.sum(axis=1) / (4.0 * sixfold.sum())
        return centre

    @property
    def bounds(self) -> Array:
        """Lowest and highest coordinates [m], shape (2, 3)."""
        return np.array([self.vertices.min(axis=0), self.vertices.max(axis=0)])

    @property
    def middle(self) -> Array:
        """Centre of the bounding box [m], shape (3,)."""
        middle: Array = self.bounds.mean(axis=0)
        return middle

    def only(self, chosen: Flags) -> "Mesh":
        """Those of its faces that are chosen, shape (F,)."""
        return Mesh(self.vertices, self.faces[chosen])

    @property
    def size(self) -> Array:
        """Edges of the bounding box [m], shape (3,)."""
        bounds = self.bounds
        edges: Array = bounds[1] - bounds[0]
        return edges


def _tetrahedra(mesh: Mesh) -> Array:
    """Six times the signed volume of the tetrahedron over each face [m3], shape (F,)."""
    corners = mesh.vertices[mesh.faces] - mesh.middle
    sixfold: Array = np.einsum("fi,fi->f", corners[:, 0], np.cross(corners[:, 1], corners[:, 2]))
    return sixfold


def mesh_of(vertices: ArrayLike, faces: ArrayLike) -> Mesh:
    """Mesh from any sequences of points [m] and triangles, turned outwards if all face in.

    Parameters
    ----------
    vertices : array_like
        Points [m], shape (V, 3).
    faces : array_like
        Vertex numbers, shape (F, 3).
    """
    mesh = Mesh(
        np.ascontiguousarray(vertices, dtype=np.float64),
        np.ascontiguousarray(faces, dtype=np.intp),
    )
    if mesh.volume < 0.0:
        return Mesh(mesh.vertices, np.ascontiguousarray(mesh.faces[:, ::-1]))
    return mesh


def face_normals(mesh: Mesh) -> Array:
    """Outward normal of each triangle, as long as twice its area [m2], shape (F, 3)."""
    corners = mesh.vertices[mesh.faces]
    normals: Array = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    return normals


def transformed(mesh: Mesh, rotation: ArrayLike, offset: ArrayLike = (0.0, 0.0, 0.0)) -> Mesh:
    """Mesh turned about the origin by a matrix and then moved.

    A mirror image (determinant -1) keeps facing outwards.

    Parameters
    ----------
    mesh : Mesh
        The solid.
    rotation : array_like
        Matrix [-], shape (3, 3).
    offset : array_like
        Shift [m], shape (3,).
    """
    matrix = np.asarray(rotation, float)
    points = mesh.vertices @ matrix.T + np.asarray(offset, float)
    faces = mesh.faces if np.linalg.det(matrix) > 0.0 else mesh.faces[:, ::-1]
    return Mesh(np.ascontiguousarray(points), np.ascontiguousarray(faces))


def scaled_to(mesh: Mesh, volume: float) -> Mesh:
    """Mesh scaled about the centre of its box so that it encloses a given volume [m3]."""
    factor = np.cbrt(volume / mesh.volume)
    return Mesh(mesh.middle + factor * (mesh.vertices - mesh.middle), mesh.faces)


def joined(meshes: Iterable[Mesh]) -> Mesh:
    """Several meshes, at least one, as one."""
    parts = list(meshes)
    first = np.cumsum([0, *(len(one.vertices) for one in parts[:-1])])
    return Mesh(
        np.concatenate([one.vertices for one in parts]),
        np.concatenate([one.faces + k for one, k in zip(parts, first, strict=True)]),
    )


def centred(mesh: Mesh) -> Mesh:
    """Mesh moved so that the centre of its bounding box is the origin."""
    return Mesh(mesh.vertices - mesh.middle, mesh.faces)


def welded(vertices: ArrayLike, faces: ArrayLike, tolerance: float = 1e-9) -> Mesh:
    """Mesh with vertices closer than a tolerance made one and collapsed triangles dropped.

    Triangle soup, as in a file for printing, becomes a mesh with shared vertices; the facing
    of the triangles is kept as it is.

    Parameters
    ----------
    vertices : array_like
        Points [m], shape (V, 3).
    faces : array_like
        Vertex numbers, shape (F, 3).
    tolerance : float
        Spacing of the grid on which vertices are compared [m].
    """
    points = np.asarray(vertices, float)
    grid = np.round(points / tolerance)
    _, first, place = np.unique(grid, axis=0, return_index=True, return_inverse=True)
    joined = place.ravel()[np.asarray(faces, dtype=np.intp)]
    kept = (
        (joined[:, 0] != joined[:, 1])
        & (joined[:, 1] != joined[:, 2])
        & (joined[:, 2] != joined[:, 0])
    )
    return Mesh(np.ascontiguousarray(points[first]), np.ascontiguousarray(joined[kept]))
