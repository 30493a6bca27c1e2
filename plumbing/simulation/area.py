"""Area under a curve given by its corners."""

from __future__ import annotations

import numpy as np

from plumbing.physics.arrays import Array


def area_under(height: Array, along: Array) -> Array:
    """Area by the trapezoid rule along the last axis; numpy has a name for it only since 2.0.

    Parameters
    ----------
    height : Array
        Shape (..., M).
    along : Array
        Rising, shape (..., M).

    Returns
    -------
    Array
        Shape (...), in the unit of one times that of the other.
    """
    middle = 0.5 * (height[..., 1:] + height[..., :-1])
    return np.asarray((np.diff(along, axis=-1) * middle).sum(axis=-1))
