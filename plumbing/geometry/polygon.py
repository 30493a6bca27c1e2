"""Plane polygons: area, centre, inside, and cutting into triangles."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, Flags, Indices

_FLAT = 1e-12  # sine of an angle that is none


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
    corners = corners if signed_area(corners) >= 0.0 else corners * [1.0, -1.0]
    count = len(corners)
    before, after = np.roll(np.arange(count), 1), np.roll(np.arange(count), -1)
    left, blocker = np.ones(count, bool), np.full(count, -1)
    sine = _sines(corners[before], corners, corners[after])
    triangles: list[tuple[int, int, int]] = []
    while len(triangles) < count - 2:
        ear = _best_ear(corners, left, sine, np.stack([before, after]), blocker)
        first, last = int(before[ear]), int(after[ear])
        triangles.append((first, ear, last))
        left[ear] = False
        after[first], before[last] = last, first
        ends = np.array([first, last])
        sine[ends] = _sines(corners[before[ends]], corners[ends], corners[after[ends]])
        blocker[ends] = -1
    return np.array(triangles, dtype=np.intp)


def _sines(before: Array, here: Array, after: Array) -> Array:
    """Sine of the smallest angle of the triangles at corners [-], below 0 where they are hollow."""
    bulge = _cross(here - before, after - here)
    sides = [here - before, after - here, before - after]
    longest = np.sort([np.linalg.norm(side, axis=1) for side in sides], axis=0)
    sine: Array = bulge / np.maximum(longest[1] * longest[2], 1e-300)
    return sine


def _best_ear(corners: Array, left: Flags, sine: Array, beside: Indices, blocker: Indices) -> int:
    """Corner with the largest smallest angle of those whose triangle holds no other.

    A triangle that holds a corner is not asked about again before that corner is gone.
    """
    open_ = left & (sine > _FLAT) & ((blocker < 0) | ~left[blocker])
    ears = np.flatnonzero(open_)
    there = np.flatnonzero(left)
    for ear in ears[np.argsort(-sine[ears], kind="stable")].tolist():
        before, after = beside[:, ear]
        held = _held(corners[there], corners[ear], corners[before], corners[after])
        if held is None:
            return int(ear)
        blocker[ear] = there[held]
    # Only corners on a straight line are left over, or the outline crosses itself.
    flat = there[np.abs(sine[there]) < _FLAT]
    return int(flat[0] if len(flat) else there[np.argmax(sine[there])])


def _cross(first: Array, second: Array) -> Array:
    """Plane cross product of vectors, shape (...)."""
    product: Array = first[..., 0] * second[..., 1] - first[..., 1] * second[..., 0]
    return product


def _held(here: Array, tip: Array, before: Array, after: Array) -> int | None:
    """Number of a corner that lies in the triangle of an ear."""
    within = (
        (_cross(tip - before, here - before) >= 0.0)
        & (_cross(after - tip, here - tip) >= 0.0)
        & (_cross(before - after, here - after) >= 0.0)
    )
    own = (here == tip).all(1) | (here == before).all(1) | (here == after).all(1)
    found = np.flatnonzero(within & ~own)
    return int(found[0]) if len(found) else None
