"""Distances from points, segments and triangles to simple convex bodies.

Bodies are solid: inside the distance is 0. The distance to a convex body is a convex function,
along a segment and over a triangle alike, so a golden-section search finds the nearest point;
nothing is sampled.
"""

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array

Distance = Callable[[Array], Array]

_GOLDEN = (np.sqrt(5.0) - 1.0) / 2.0
_STEPS = 32  # 0.618**32: a metre is found to a micrometre


def point_to_segment(point: ArrayLike, start: ArrayLike, end: ArrayLike) -> Array:
    """Distance from points to segments [m]; all arguments shape (..., 3)."""
    p, a = np.asarray(point, float), np.asarray(start, float)
    along = np.asarray(end, float) - a
    square = _dot(along, along)
    share = _dot(p - a, along) / np.where(square > 0.0, square, 1.0)
    return _norm(p - a - np.clip(share, 0.0, 1.0)[..., None] * along)


def point_to_box(point: ArrayLike, size: ArrayLike) -> Array:
    """Distance from points to a box about the origin [m].

    Parameters
    ----------
    point : array_like
        In the box's own axes [m], shape (..., 3).
    size : array_like
        Edges [m], shape (3,).
    """
    beyond = np.abs(np.asarray(point, float)) - 0.5 * np.asarray(size, float)
    return _norm(np.maximum(beyond, 0.0))


def point_to_cylinder(point: ArrayLike, length: float, radius: float, axis: str = "x") -> Array:
    """Distance from points to a cylinder about the origin, flat ends [m].

    A disc is a cylinder of no length.

    Parameters
    ----------
    point : array_like
        In the cylinder's own axes [m], shape (..., 3).
    length, radius : float
        [m].
    axis : {"x", "y", "z"}
        Direction of the axis.
    """
    points = np.roll(np.asarray(point, float), -"xyz".index(axis), axis=-1)
    out = np.maximum(np.hypot(points[..., 1], points[..., 2]) - radius, 0.0)
    past = np.maximum(np.abs(points[..., 0]) - 0.5 * length, 0.0)
    distance: Array = np.hypot(out, past)
    return distance


def least_along(distance: Distance, first: Array, last: Array) -> Array:
    """Smallest distance on each of some segments.

    Parameters
    ----------
    distance : callable
        Distance of points to a convex body [m], shape (..., 3) to (...).
    first, last : Array
        Ends of the segments [m], shape (S, 3).

    Returns
    -------
    Array
        Shape (S,) [m].
    """

    def at(share: Array) -> Array:
        return distance(first + share[:, None] * (last - first))

    ends = np.minimum(distance(first), distance(last))
    return np.minimum(ends, _smallest(at, len(first)))


def least_over(distance: Distance, corners: Array, within: float = np.inf) -> float:
    """Smallest distance on any of some triangles [m].

    Parameters
    ----------
    distance : callable
        As for `least_along`.
    corners : Array
        Corners of the triangles [m], shape (F, 3, 3).
    within : float
        Distance of interest [m]: where all are certainly farther, a lower bound is enough.
    """
    centre = corners.mean(axis=1)
    reach = np.linalg.norm(corners - centre[:, None], axis=2).max(axis=1)
    far = distance(centre)
    at_least = float((far - reach).min())
    if at_least > within:
        return at_least
    near = corners[far - reach <= min(far.min(), distance(corners).min())]
    a, b, c = near[:, 0], near[:, 1], near[:, 2]
    inner = _smallest(
        lambda share: least_along(distance, a + share[:, None] * (b - a), c), len(near)
    )
    edges = np.minimum(least_along(distance, a, c), least_along(distance, b, c))
    return float(np.minimum(inner, edges).min())


def _smallest(at: Callable[[Array], Array], count: int) -> Array:
    """Smallest value of convex functions of a share 0 to 1, all searched together."""
    low, high = np.zeros(count), np.ones(count)
    for _ in range(_STEPS):
        step = _GOLDEN * (high - low)
        left, right = high - step, low + step
        falls = at(left) > at(right)
        low, high = np.where(falls, left, low), np.where(falls, high, right)
    return at(0.5 * (low + high))


def encloses(corners: Array, point: ArrayLike) -> bool:
    """Whether a closed surface of triangles goes round a point: its solid angle is not zero.

    References
    ----------
    van Oosterom, A. and Strackee, J. (1983), solid angle of a plane triangle.
    """
    a, b, c = np.moveaxis(corners - np.asarray(point, float), 1, 0)
    sizes = [np.linalg.norm(side, axis=1) for side in (a, b, c)]
    volume = np.einsum("fi,fi->f", a, np.cross(b, c))
    (la, lb, lc) = sizes
    ab, bc, ca = ((p * q).sum(axis=1) for p, q in ((a, b), (b, c), (c, a)))
    angle = 2.0 * np.arctan2(volume, la * lb * lc + ab * lc + bc * la + ca * lb)
    return bool(abs(angle.sum()) > 2.0 * np.pi)


def _dot(one: Array, other: Array) -> Array:
    """Scalar product along the last axis."""
    product: Array = np.sum(one * other, axis=-1)
    return product


def _norm(vector: Array) -> Array:
    """Length along the last axis."""
    return np.sqrt(_dot(vector, vector))
