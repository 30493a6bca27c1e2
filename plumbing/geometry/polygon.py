"""Plane polygons: area, centre, inside, and cutting into triangles."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, Flags, Indices


def signed_area(outline: ArrayLike) -> float:
    """Area of a polygon [m2], positive when its corners run counter-clockwise.

    Parameters
    ----------
    outline : array_like
        Corners in order [m], shape (N, 2); the last joins the first.
    """
    corners = np.asarray(outline, float)
    corners = corners - corners[0]
    following = np.roll(corners, -1, axis=0)
    return float(0.5 * (corners[:, 0] @ following[:, 1] - corners[:, 1] @ following[:, 0]))


def inside(outline: ArrayLike, points: ArrayLike) -> Flags:
    """Whether points lie in a polygon (even-odd rule; the boundary itself is undecided).

    Parameters
    ----------
    outline : array_like
        Corners in order [m], shape (N, 2).
    points : array_like
        Points [m], shape (..., 2).

    Returns
    -------
    Flags
        Shape (...).
    """
    start = np.asarray(outline, float)
    end = np.roll(start, -1, axis=0)
    x, y = np.moveaxis(np.asarray(points, float)[..., None, :], -1, 0)
    straddles = (start[:, 1] > y) != (end[:, 1] > y)
    rise = np.where(end[:, 1] == start[:, 1], 1.0, end[:, 1] - start[:, 1])
    crossing = start[:, 0] + (y - start[:, 1]) * (end[:, 0] - start[:, 0]) / rise
    hits: Flags = np.count_nonzero(straddles & (x < crossing), axis=-1) % 2 == 1
    return hits


def triangulated(outline: ArrayLike) -> Indices:
    """Triangles that fill a simple polygon, concave or not, by clipping ears.

    The best-shaped ear is clipped first, so that a round outline does not give slivers.

    Parameters
    ----------
    outline : array_like
        Corners in order [m], shape (N, 2), N >= 3; either sense.

    Returns
    -------
    Indices
        Corner numbers, shape (N - 2, 3), each triangle in the sense of the outline.

    References
    ----------
    Meisters, G.H. (1975): every simple polygon has two ears.
    """
    corners = np.asarray(outline, float)
    turn = 1.0 if signed_area(corners) >= 0.0 else -1.0
    left = list(range(len(corners)))
    triangles = []
    while len(left) > 3:
        ear = _best_ear(corners, left, turn)
        triangles.append((left[ear - 1], left[ear], left[(ear + 1) % len(left)]))
        del left[ear]
    triangles.append((left[0], left[1], left[2]))
    return np.array(triangles, dtype=np.intp)


def _best_ear(corners: Array, left: list[int], turn: float) -> int:
    """Place in `left` of the ear with the largest smallest angle."""
    here = corners[left]
    before, after = np.roll(here, 1, axis=0), np.roll(here, -1, axis=0)
    bulge = turn * _cross(here - before, after - here)
    sides = np.stack(
        [
            np.linalg.norm(here - before, axis=1),
            np.linalg.norm(after - here, axis=1),
            np.linalg.norm(before - after, axis=1),
        ]
    )
    longest = np.sort(sides, axis=0)
    sine = bulge / np.maximum(longest[1] * longest[2], 1e-300)
    flat = np.abs(sine) < 1e-12
    for ear in np.argsort(-sine):
        if sine[ear] <= 0.0 or flat[ear]:
            break
        if not _holds_corner(here, int(ear), before[ear], after[ear], turn):
            return int(ear)
    # Only corners on a straight line are left over, or the outline crosses itself.
    return int(np.argmin(np.abs(sine))) if flat.any() else int(np.argmax(sine))


def _cross(first: Array, second: Array) -> Array:
    """Plane cross product of vectors, shape (...)."""
    product: Array = first[..., 0] * second[..., 1] - first[..., 1] * second[..., 0]
    return product


def _holds_corner(here: Array, ear: int, before: Array, after: Array, turn: float) -> bool:
    """Whether another corner lies in the ear's triangle."""
    tip = here[ear]
    within = (
        (turn * _cross(tip - before, here - before) >= 0.0)
        & (turn * _cross(after - tip, here - tip) >= 0.0)
        & (turn * _cross(before - after, here - after) >= 0.0)
    )
    own = (here == tip).all(1) | (here == before).all(1) | (here == after).all(1)
    return bool((within & ~own).any())
