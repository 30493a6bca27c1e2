"""Distances between segments, polylines and simple bodies.

All functions are batched over segments, given by their ends, shape (..., 3) [m]. Bodies are
solid: inside the distance is 0.
"""

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike

from plumbing.geometry.polygon import inside
from plumbing.physics.arrays import Array

GOLDEN = 0.5 * (np.sqrt(5.0) - 1.0)
ROUNDS = 60  # of golden section: the place is then known to 3e-13 of the segment


def point_to_segment(point: ArrayLike, start: ArrayLike, end: ArrayLike) -> Array:
    """Distance from points to segments [m]; all arguments shape (..., 3)."""
    p, a = np.asarray(point, float), np.asarray(start, float)
    along = np.asarray(end, float) - a
    square = _dot(along, along)
    share = _dot(p - a, along) / np.where(square > 0.0, square, 1.0)
    return _norm(p - a - np.clip(share, 0.0, 1.0)[..., None] * along)


def segment_to_segment(
    start: ArrayLike, end: ArrayLike, other_start: ArrayLike, other_end: ArrayLike
) -> Array:
    """Distance between segments [m]; all arguments shape (..., 3).

    The nearest points are either both inside, which the common perpendicular gives, or one of
    them is an end, which is tried for all four.
    """
    a, b = np.asarray(start, float), np.asarray(end, float)
    c, d = np.asarray(other_start, float), np.asarray(other_end, float)
    first, second, gap = b - a, d - c, a - c
    aa, bb, ab = _dot(first, first), _dot(second, second), _dot(first, second)
    ag, bg = _dot(first, gap), _dot(second, gap)
    square = aa * bb - ab**2
    skew = square > 1e-14 * aa * bb
    square = np.where(skew, square, 1.0)
    s, t = (ab * bg - bb * ag) / square, (aa * bg - ab * ag) / square
    both = skew & (s > 0.0) & (s < 1.0) & (t > 0.0) & (t < 1.0)
    across = _norm(gap + s[..., None] * first - t[..., None] * second)
    ends = np.minimum(
        np.minimum(point_to_segment(a, c, d), point_to_segment(b, c, d)),
        np.minimum(point_to_segment(c, a, b), point_to_segment(d, a, b)),
    )
    return np.where(both, np.minimum(across, ends), ends)


def polyline_to_polyline(points: ArrayLike, others: ArrayLike) -> float:
    """Smallest distance between two polylines [m], shapes (N, 3) and (M, 3)."""
    one, two = np.asarray(points, float), np.asarray(others, float)
    return float(
        segment_to_segment(one[:-1, None], one[1:, None], two[None, :-1], two[None, 1:]).min()
    )


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


def segment_to_box(start: ArrayLike, end: ArrayLike, size: ArrayLike) -> Array:
    """Distance from segments to a box about the origin [m]; ends in the box's own axes."""
    return _segment_to_convex(start, end, lambda p: point_to_box(p, size))


def segment_to_cylinder(
    start: ArrayLike, end: ArrayLike, length: float, radius: float, axis: str = "x"
) -> Array:
    """Distance from segments to a cylinder about the origin [m]; ends in its own axes."""
    return _segment_to_convex(start, end, lambda p: point_to_cylinder(p, length, radius, axis))


def segment_to_disc(start: ArrayLike, end: ArrayLike, radius: float, axis: str = "x") -> Array:
    """Distance from segments to a disc about the origin [m]; ends in its own axes."""
    return segment_to_cylinder(start, end, 0.0, radius, axis)


def _segment_to_convex(
    start: ArrayLike, end: ArrayLike, distance: Callable[[Array], Array]
) -> Array:
    """Smallest distance along a segment to a convex body, by golden section.

    The distance to a convex body is a convex function of the place on the segment, so the
    search cannot end in a false minimum.
    """
    a = np.asarray(start, float)
    along = np.asarray(end, float) - a
    low, high = np.zeros(a.shape[:-1]), np.ones(a.shape[:-1])

    def at(share: Array) -> Array:
        return distance(a + share[..., None] * along)

    best = np.minimum(at(low), at(high))
    left, right = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
    here, there = at(left), at(right)
    for _ in range(ROUNDS):
        keep = here <= there
        low, high = np.where(keep, low, left), np.where(keep, right, high)
        left, right = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
        here, there = at(left), at(right)
        best = np.minimum(best, np.minimum(here, there))
    return best


def segment_to_polygon(start: ArrayLike, end: ArrayLike, outline: ArrayLike) -> Array:
    """Distance from segments to a flat polygon in space [m].

    Parameters
    ----------
    start, end : array_like
        Ends [m], shape (..., 3).
    outline : array_like
        Corners of the polygon in order, in one plane [m], shape (N, 3).
    """
    a, b = np.asarray(start, float), np.asarray(end, float)
    corners = np.asarray(outline, float)
    arms = corners - corners[0]
    normal = np.cross(arms[:-1], arms[1:]).sum(axis=0)
    normal = normal / max(float(np.linalg.norm(normal)), 1e-300)
    keep = [k for k in range(3) if k != int(np.argmax(np.abs(normal)))]

    def over(points: Array) -> Array:
        return np.asarray(inside(corners[:, keep], points[..., keep]), dtype=np.float64)

    edges = segment_to_segment(
        a[..., None, :], b[..., None, :], corners, np.roll(corners, -1, axis=0)
    ).min(axis=-1)
    near, far = (a - corners[0]) @ normal, (b - corners[0]) @ normal
    result = edges
    for end_point, height in ((a, near), (b, far)):
        foot = end_point - height[..., None] * normal
        result = np.where(over(foot) > 0.0, np.minimum(result, np.abs(height)), result)
    crossing = near * far < 0.0
    share = near / np.where(crossing, near - far, 1.0)
    through = a + share[..., None] * (b - a)
    return np.where(crossing & (over(through) > 0.0), 0.0, result)


def _dot(one: Array, other: Array) -> Array:
    """Scalar product along the last axis."""
    product: Array = np.sum(one * other, axis=-1)
    return product


def _norm(vector: Array) -> Array:
    """Length along the last axis."""
    return np.sqrt(_dot(vector, vector))
