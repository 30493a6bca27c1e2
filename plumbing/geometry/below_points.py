"""What lies straight below a point inside a closed mesh."""

import numpy as np

from plumbing.geometry.mesh import Mesh, face_normals
from plumbing.physics.arrays import Array, Indices

BATCH = 400_000  # pairs of point and face worked on at a time
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
    arms = corners[None] - points[:, None, None]
    way = np.einsum("nfi,fi->nf", arms[:, :, 0], normals) / np.where(floor, steep, 1.0)
    inside = floor & (way >= -above)
    for k in range(3):
        turned = np.cross(arms[:, :, k], arms[:, :, (k + 1) % 3])
        share = np.einsum("nfi,ni->nf", turned, down)
        inside &= share >= -_EDGE * np.abs(steep)
    nearest = np.where(inside, way, np.inf)
    place = nearest.argmin(axis=1)
    hit = np.isfinite(nearest[np.arange(len(points)), place])
    return np.where(hit, place, -1)
