"""Outlines of solids and of the liquid in them, for drawings.

Outlines are closed loops to be filled together by the non-zero rule: where they overlap or cross
the fill is still exactly the shadow of the solid.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from plumbing.geometry.mesh import Mesh, face_normals
from plumbing.physics.arrays import Array, Indices

PLAN = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])  # x to the right, y up: seen from above
SIDE = np.array([[1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])  # x to the right, z up: seen from port
FRONT = np.array([[0.0, 1.0, 0.0], [0.0, 0.0, 1.0]])  # y to the right, z up: seen from aft


@dataclass(frozen=True, slots=True, eq=False)
class Wetted:
    """The part of a solid's wall below a level.

    Attributes
    ----------
    mesh : Mesh
        Wetted wall, open at the top, facing outwards.
    rims : list of Array
        Outlines of the free surface [m], shape (N, 3) each, running so that the liquid's upper
        side faces against gravity.
    """

    mesh: Mesh
    rims: list[Array]


def wetted(mesh: Mesh, down: ArrayLike, level: float) -> Wetted:
    """Cut the wall of a solid at a level and keep what is below.

    Parameters
    ----------
    mesh : Mesh
        Closed solid.
    down : array_like
        Unit vector along effective gravity [-], shape (3,).
    level : float
        Height of the surface, ``-down . x`` [m].
    """
    heights = -(mesh.vertices @ np.asarray(down, float))
    below = heights < level
    count = below[mesh.faces].sum(axis=1)
    lone_wet = _led_by(mesh.faces[count == 1], below)
    lone_dry = _led_by(mesh.faces[count == 2], ~below)
    cut_edges = np.concatenate(
        [lone_wet[:, [0, 1]], lone_wet[:, [0, 2]], lone_dry[:, [0, 1]], lone_dry[:, [0, 2]]]
    )
    edges, place = np.unique(np.sort(cut_edges, axis=1), axis=0, return_inverse=True)
    first, second = heights[edges[:, 0]], heights[edges[:, 1]]
    share = ((level - first) / (second - first))[:, None]
    points = (1.0 - share) * mesh.vertices[edges[:, 0]] + share * mesh.vertices[edges[:, 1]]
    new = len(mesh.vertices) + place.ravel()
    ends = np.cumsum([len(lone_wet), len(lone_wet), len(lone_dry)])
    wet_b, wet_c, dry_b, dry_c = np.split(new, ends)
    faces = np.concatenate(
        [
            mesh.faces[count == 3],
            np.stack([lone_wet[:, 0], wet_b, wet_c], axis=1),
            np.stack([lone_dry[:, 1], lone_dry[:, 2], dry_c], axis=1),
            np.stack([lone_dry[:, 1], dry_c, dry_b], axis=1),
        ]
    )
    vertices = np.concatenate([mesh.vertices, points])
    rim = np.concatenate([np.stack([wet_c, wet_b], axis=1), np.stack([dry_b, dry_c], axis=1)])
    return Wetted(Mesh(vertices, faces), [vertices[loop] for loop in _loops(rim)])


def _led_by(faces: Indices, chosen: Array) -> Indices:
    """Faces with their corners turned so that the one chosen corner comes first."""
    first = np.argmax(chosen[faces], axis=1)
    turned: Indices = faces[np.arange(len(faces))[:, None], (first[:, None] + np.arange(3)) % 3]
    return turned


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


def liquid_silhouette(mesh: Mesh, down: ArrayLike, level: float, plane: ArrayLike) -> list[Array]:
    """Outlines [m] of the shadow of the liquid below a level [m]; arguments as in the others."""
    axes = np.asarray(plane, float)
    part = wetted(mesh, down, level)
    loops = silhouette(part.mesh, axes) if len(part.mesh.faces) else []
    seen_from_above = -np.asarray(down, float) @ np.cross(axes[0], axes[1]) > 0.0
    if seen_from_above:
        loops += [rim @ axes.T for rim in part.rims]
    return loops
