"""Where a clunk comes to rest, and how deep a point lies under the surface."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.geometry.inset import contains, inset
from plumbing.geometry.mesh import Mesh, face_normals
from plumbing.physics.arrays import Array, Flags

BATCH = 400_000


def clunk_position(
    mesh: Mesh, port: ArrayLike, reach: float, down: ArrayLike, clearance: float = 0.0
) -> Array:
    """Lowest point of a solid within reach of a port: where a clunk lies.

    The hose is a limit on distance, without stiffness, and may lie along any wall. Every place
    where the lowest point can be is tried: corners, edges where they leave the sphere of
    reach, the lowest point of the circle in which a wall meets that sphere, and the lowest
    point of the sphere if the clunk hangs free. In a solid with a bay that only a bent hose
    could enter, the clunk is taken to enter it.

    Parameters
    ----------
    mesh : Mesh
        Inner solid of the tank.
    port : array_like
        Where the hose is fastened [m], shape (3,).
    reach : float
        From the port to the end of the clunk [m].
    down : array_like
        Unit vectors along effective gravity [-], shape (D, 3) or (3,).
    clearance : float
        Distance its opening keeps from the walls: half the clunk's diameter [m].

    Returns
    -------
    Array
        Position of its opening [m], shape (D, 3). The port, drawn in by nothing, where
        no part of the solid is within reach.
    """
    directions = np.atleast_2d(np.asarray(down, float))
    start = np.asarray(port, float)
    solid = inset(mesh, clearance)
    best, depth = _lowest(_fixed_candidates(solid, start, reach), directions, start)
    for first in range(0, len(directions), max(1, BATCH // len(solid.faces))):
        part = slice(first, first + max(1, BATCH // len(solid.faces)))
        found, deeper = _lowest_on_walls(solid, start, reach, directions[part])
        take = deeper > depth[part]
        best[part][take], depth[part][take] = found[take], deeper[take]
    hanging = start + reach * directions
    free = contains(solid, hanging)
    return np.where(free[:, None], hanging, best)


def _lowest(points: Array, down: Array, otherwise: Array) -> tuple[Array, Array]:
    """Lowest of some points for each direction, and its depth [m]."""
    if len(points) == 0:
        return np.tile(otherwise, (len(down), 1)), np.full(len(down), -np.inf)
    deep = down @ points.T
    lowest = np.argmax(deep, axis=1)
    return points[lowest], deep[np.arange(len(down)), lowest]


def _fixed_candidates(mesh: Mesh, port: Array, reach: float) -> Array:
    """Corners within reach and points where edges leave it, shape (N, 3)."""
    within = np.linalg.norm(mesh.vertices - port, axis=1) <= reach
    edges = np.unique(np.sort(mesh.faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1), axis=0)
    start, along = mesh.vertices[edges[:, 0]], np.diff(mesh.vertices[edges], axis=1)[:, 0]
    square = np.einsum("ei,ei->e", along, along)
    square = np.where(square > 0.0, square, 1.0)
    half = np.einsum("ei,ei->e", along, port - start) / square
    rest = half**2 - (np.sum((port - start) ** 2, axis=1) - reach**2) / square
    points = [mesh.vertices[within]]
    for sign in (-1.0, 1.0):
        share = half + sign * np.sqrt(np.maximum(rest, 0.0))
        on = (rest >= 0.0) & (share >= 0.0) & (share <= 1.0)
        points.append(start[on] + share[on, None] * along[on])
    return np.concatenate(points)


def _lowest_on_walls(mesh: Mesh, port: Array, reach: float, down: Array) -> tuple[Array, Array]:
    """Lowest points of the circles in which the walls meet the sphere of reach.

    Returns
    -------
    tuple of Array
        Points [m], shape (D, 3), and depths along `down` [m], shape (D,), minus infinity
        where there is none.
    """
    normals = face_normals(mesh)
    length = np.linalg.norm(normals, axis=1)
    unit = normals / np.where(length > 0.0, length, 1.0)[:, None]
    corners = mesh.vertices[mesh.faces]
    height = np.einsum("fi,fi->f", unit, port - corners[:, 0])
    far = np.linalg.norm(corners - port, axis=2).max(axis=1) >= reach
    beside = np.maximum(np.maximum(corners.min(axis=1) - port, port - corners.max(axis=1)), 0.0)
    near = np.linalg.norm(beside, axis=1) <= reach  # else the sphere is beside its box
    met = np.flatnonzero((np.abs(height) < reach) & near & far & (length > 0.0))
    nothing = np.tile(port, (len(down), 1)), np.full(len(down), -np.inf)
    if len(met) == 0:
        return nothing
    unit, corners, height = unit[met], corners[met], height[met]
    radius = np.sqrt(reach**2 - height**2)
    slope = down[:, None] - (down @ unit.T)[..., None] * unit
    steep = np.linalg.norm(slope, axis=-1)
    sloping = steep > 1e-12
    slope = slope / np.where(sloping, steep, 1.0)[..., None]
    points = (port - height[:, None] * unit) + radius[:, None] * slope
    held = sloping & _within(corners, unit, points)
    deep = np.where(held, np.einsum("di,dfi->df", down, points), -np.inf)
    lowest = np.argmax(deep, axis=1)
    rows = np.arange(len(down))
    return points[rows, lowest], deep[rows, lowest]


def _within(corners: Array, unit: Array, points: Array) -> Flags:
    """Whether points in the planes of triangles lie in the triangles, shape (D, F).

    Parameters
    ----------
    corners : Array
        Shape (F, 3, 3).
    unit : Array
        Unit normals, shape (F, 3).
    points : Array
        Shape (D, F, 3).
    """
    inside = np.ones(points.shape[:2], dtype=bool)
    for k in range(3):
        side = corners[:, (k + 1) % 3] - corners[:, k]
        inward = np.cross(unit, side)
        reach = np.einsum("dfi,fi->df", points - corners[:, k], inward)
        inside &= reach >= -1e-9 * np.einsum("fi,fi->f", side, side)
    return inside
