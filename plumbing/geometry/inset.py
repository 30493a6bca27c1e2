"""A solid drawn in by a distance all round, and points inside a solid."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.geometry.mesh import Mesh, face_normals
from plumbing.physics.arrays import Array, Flags

BATCH = 400_000


def inset(mesh: Mesh, distance: float) -> Mesh:
    """Mesh whose walls stand a distance further in.

    Each corner moves to where the walls that meet in it meet again; a corner of a curved wall
    moves along its normal. Exact for boxes and other solids with three walls in a corner.

    Parameters
    ----------
    mesh : Mesh
        The solid.
    distance : float
        How far its walls move in [m]; at most a third of its smallest size is taken, so that
        something is left of it.
    """
    distance = min(distance, float(mesh.size.min()) / 3.0)
    if distance <= 0.0:
        return mesh
    normals = face_normals(mesh)
    length = np.linalg.norm(normals, axis=1)
    unit = normals / np.where(length > 0.0, length, 1.0)[:, None]
    count = len(mesh.vertices)
    squares, sums = np.zeros((count, 3, 3)), np.zeros((count, 3))
    for k, angle in enumerate(_corner_angles(mesh)):
        np.add.at(squares, mesh.faces[:, k], angle[:, None, None] * _outer(unit))
        np.add.at(sums, mesh.faces[:, k], angle[:, None] * unit)
    shift = -distance * np.einsum("vij,vj->vi", np.linalg.pinv(squares, 0.02, True), sums)
    return Mesh(mesh.vertices + shift, mesh.faces)


def _corner_angles(mesh: Mesh) -> Array:
    """Angles of the triangles at their corners [rad], shape (3, F).

    As weights of the walls in a corner they do not depend on how a wall is cut into triangles.
    """
    corners = mesh.vertices[mesh.faces]
    after = np.roll(corners, -1, axis=1) - corners
    before = np.roll(corners, 1, axis=1) - corners
    across = np.linalg.norm(np.cross(after, before), axis=2)
    angle: Array = np.arctan2(across, np.einsum("fki,fki->fk", after, before)).T
    return angle


def _outer(vectors: Array) -> Array:
    """Products of each vector with itself, shape (N, 3, 3)."""
    return vectors[:, :, None] * vectors[:, None, :]


def contains(mesh: Mesh, points: ArrayLike) -> Flags:
    """Whether points lie inside a closed mesh, by the angle it fills seen from them.

    Parameters
    ----------
    mesh : Mesh
        Closed, outward-facing solid.
    points : array_like
        Points [m], shape (N, 3).

    Returns
    -------
    Flags
        Shape (N,). On the surface itself the answer is undecided.

    References
    ----------
    Van Oosterom and Strackee (1983), IEEE Trans. Biomed. Eng. 30, solid angle of a triangle.
    """
    points = np.asarray(points, float)
    bounds = mesh.bounds
    result: Flags = ((points >= bounds[0]) & (points <= bounds[1])).all(axis=1)
    near = np.flatnonzero(result)
    corners = mesh.vertices[mesh.faces]
    some = max(1, BATCH // len(mesh.faces))
    for start in range(0, len(near), some):
        chosen = near[start : start + some]
        arms = corners[None] - points[chosen, None, None]
        a, b, c = arms[:, :, 0], arms[:, :, 1], arms[:, :, 2]
        la, lb, lc = np.linalg.norm(arms, axis=-1).transpose(2, 0, 1)
        over = np.einsum("nfi,nfi->nf", a, np.cross(b, c))
        under = la * lb * lc + _dot(a, b) * lc + _dot(b, c) * la + _dot(c, a) * lb
        result[chosen] = np.arctan2(over, under).sum(axis=1) > np.pi  # half of 4 pi, halved
    return result


def _dot(one: Array, other: Array) -> Array:
    """Scalar products along the last axis."""
    product: Array = np.einsum("nfi,nfi->nf", one, other)
    return product
