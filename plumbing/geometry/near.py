"""Distance from points to the surface of a mesh."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.geometry.distance import point_to_segment
from plumbing.geometry.mesh import Mesh
from plumbing.physics.arrays import Array

BATCH = 400_000


def surface_distance(mesh: Mesh, points: ArrayLike) -> Array:
    """Distance from points to the nearest spot of a mesh's surface.

    Parameters
    ----------
    mesh : Mesh
        The solid.
    points : array_like
        Points [m], shape (N, 3).

    Returns
    -------
    Array
        Distances [m], shape (N,); never negative, inside or out.
    """
    points = np.asarray(points, float)
    corners = mesh.vertices[mesh.faces]
    some = max(1, BATCH // len(corners))
    parts = [_nearest(points[k : k + some], corners) for k in range(0, len(points), some)]
    return np.concatenate(parts) if parts else np.zeros(0)


def _nearest(points: Array, corners: Array) -> Array:
    """Least distance of each point to any triangle: over its face where it lies over one."""
    edges = np.stack(
        [point_to_segment(points[:, None], corners[:, k], corners[:, k - 2]) for k in range(3)]
    ).min(axis=0)
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(normals, axis=1)
    units = normals / np.where(size > 0.0, size, 1.0)[:, None]
    height = np.einsum("nfi,fi->nf", points[:, None] - corners[None, :, 0], units)
    over = np.ones(height.shape, dtype=bool) & (size > 0.0)
    for k in range(3):
        inward = np.cross(units, corners[:, (k + 1) % 3] - corners[:, k])
        over &= np.einsum("nfi,fi->nf", points[:, None] - corners[None, :, k], inward) >= 0.0
    nearest: Array = np.where(over, np.abs(height), edges).min(axis=1)
    return nearest
