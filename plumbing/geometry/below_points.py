"""What lies straight below a point inside a closed mesh."""

import numpy as np

from plumbing.geometry.mesh import Mesh, face_normals
from plumbing.physics.arrays import Array, Indices

BATCH = 100_000  # pairs of point and face worked on at a time
_EDGE = 1e-9  # share of a triangle by which a point may miss it


def face_below(mesh: Mesh, points: Array, down: Array, above: float = 0.0) -> Indices:
    """First face met from each point along its own direction; -1 where there is none.

    Parameters
    ----------
    mesh : Mesh
        Closed solid.
    points : Array
        Points [m], shape (N, 3).
    down : Array
        Unit vectors along effective gravity, one a point, shape (N, 3).
    above : float
        A floor that lies this much above a point counts, too [m]: a port is measured with a
        ruler. Negative for what must lie below it.

    Returns
    -------
    Indices
        Shape (N,). Only floors are met: faces that the solid lies above.
    """
    corners, normals = mesh.vertices[mesh.faces], face_normals(mesh)
    found = np.full(len(points), -1, dtype=np.intp)
    some = max(1, BATCH // len(mesh.faces))
    for first in range(0, len(points), some):
        part = slice(first, first + some)
        found[part] = _met(corners, normals, points[part], down[part], above)
    return found


def _met(corners: Array, normals: Array, points: Array, down: Array, above: float) -> Indices:
    steep = down @ normals.T
    floor = steep > 1e-12 * np.linalg.norm(normals, axis=1)
    start = np.einsum("fi,fi->f", corners[:, 0], normals) - points @ normals.T
    way = start / np.where(floor, steep, 1.0)
    point, face = np.nonzero(floor & (way >= -above))
    arms = corners[face] - points[point, None]
    inside = np.ones(len(face), dtype=bool)
    for k in range(3):
        turned = np.cross(arms[:, k], arms[:, (k + 1) % 3])
        share = np.einsum("ni,ni->n", turned, down[point])
        inside &= share >= -_EDGE * steep[point, face]
    nearest = np.full(way.shape, np.inf)
    nearest[point[inside], face[inside]] = way[point[inside], face[inside]]
    place = nearest.argmin(axis=1)
    hit = np.isfinite(nearest[np.arange(len(points)), place])
    return np.where(hit, place, -1)


def corner_below(mesh: Mesh, points: Array, down: Array, above: float = 0.0) -> Indices:
    """Lowest corner of the face straight below each point, to which liquid there runs first.

    The nearest corner where there is no floor below a point. Parameters as for `face_below`.

    Returns
    -------
    Indices
        Shape (N,).
    """
    face = face_below(mesh, points, down, above)
    heights = -np.einsum("nci,ni->nc", mesh.vertices[mesh.faces[face]], down)
    corner = mesh.faces[face, heights.argmin(axis=1)]
    lost = np.flatnonzero(face < 0)
    if lost.size:
        apart = mesh.vertices[None] - points[lost, None]
        corner[lost] = np.einsum("nvi,nvi->nv", apart, apart).argmin(axis=1)
    return np.asarray(corner)
