"""Outlines of solids and of the surface of the liquid in them, for drawings.

Outlines are closed loops to be filled together by the non-zero rule: where they overlap or cross
the fill is still exactly the shadow of the solid.
"""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.geometry.mesh import Mesh, face_normals
from plumbing.physics.arrays import Array, Indices

PLAN = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])  # x to the right, y up: seen from above
SIDE = np.array([[1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])  # x to the right, z up: seen from port
FRONT = np.array([[0.0, 1.0, 0.0], [0.0, 0.0, 1.0]])  # y to the right, z up: seen from aft


def rims(mesh: Mesh, down: ArrayLike, level: float) -> list[Array]:
    """Outlines of the free surface of the liquid in a solid.

    Parameters
    ----------
    mesh : Mesh
        Closed solid, or those of its faces that one pocket begins in.
    down : array_like
        Unit vector along effective gravity [-], shape (3,).
    level : float
        Height of the surface, ``-down . x`` [m].

    Returns
    -------
    list of Array
        Closed loops [m], shape (N, 3) each, that run round the liquid as seen from above it.
    """
    heights = -(mesh.vertices @ np.asarray(down, float))
    wet, onward = heights < level, np.roll(mesh.faces, -1, axis=1)
    leaves, enters = wet[mesh.faces] & ~wet[onward], ~wet[mesh.faces] & wet[onward]
    crossed = np.concatenate(
        [np.stack([mesh.faces[some], onward[some]], 1) for some in (enters, leaves)]
    )
    edges, place = np.unique(np.sort(crossed, axis=1), axis=0, return_inverse=True)
    first, second = heights[edges[:, 0]], heights[edges[:, 1]]
    share = ((level - first) / (second - first))[:, None]
    points = (1.0 - share) * mesh.vertices[edges[:, 0]] + share * mesh.vertices[edges[:, 1]]
    return [points[loop] for loop in _loops(place.reshape(2, -1).T)]


def _loops(edges: Indices) -> list[list[int]]:
    """Chain directed edges, as many into as out of each corner, into closed loops."""
    onward: dict[int, list[int]] = {}
    for begin, end in edges.tolist():
        onward.setdefault(begin, []).append(end)
    loops = []
    for begin in list(onward):
        while onward[begin]:
            loop, here = [begin], onward[begin].pop()
            while here != begin and onward.get(here):
                loop.append(here)
                here = onward[here].pop()
            if len(loop) > 2:
                loops.append(loop)
    return loops


def silhouette(mesh: Mesh, plane: ArrayLike) -> list[Array]:
    """Outlines of a solid's shadow on a plane.

    Parameters
    ----------
    mesh : Mesh
        The solid.
    plane : array_like
        Axes of the drawing to the right and up, orthogonal unit vectors [-], shape (2, 3), such
        as `PLAN`, `SIDE` or `FRONT`.

    Returns
    -------
    list of Array
        Closed loops [m], shape (N, 2) each, to be filled together by the non-zero rule.
    """
    axes = np.asarray(plane, float)
    facing = face_normals(mesh) @ np.cross(axes[0], axes[1]) > 0.0
    edges = mesh.faces[facing][:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    count = len(mesh.vertices)
    there, back = edges[:, 0] * count + edges[:, 1], edges[:, 1] * count + edges[:, 0]
    border = edges[~np.isin(back, there)]
    flat = mesh.vertices @ axes.T
    return [flat[loop] for loop in _loops(border)]
