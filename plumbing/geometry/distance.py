"""Distance from points to segments."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array


def point_to_segment(point: ArrayLike, start: ArrayLike, end: ArrayLike) -> Array:
    """Distance from points to segments [m]; all arguments shape (..., 3)."""
    p, a = np.asarray(point, float), np.asarray(start, float)
    along = np.asarray(end, float) - a
    square = _dot(along, along)
    share = _dot(p - a, along) / np.where(square > 0.0, square, 1.0)
    return _norm(p - a - np.clip(share, 0.0, 1.0)[..., None] * along)


def _dot(one: Array, other: Array) -> Array:
    """Scalar product along the last axis."""
    product: Array = np.sum(one * other, axis=-1)
    return product


def _norm(vector: Array) -> Array:
    """Length along the last axis."""
    return np.sqrt(_dot(vector, vector))
