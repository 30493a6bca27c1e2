"""Fuel that a pickup cannot reach at an attitude."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.geometry.cut import Cut
from plumbing.physics.arrays import Array


def volume_below_point(cut: Cut, point: ArrayLike) -> Array:
    """Volume that lies below a point, for each direction of a cut.

    With the point where a pickup opens, this is what is left when the surface reaches it.

    Parameters
    ----------
    cut : Cut
        The tank for D directions.
    point : array_like
        One point for all directions, shape (3,), or one each, shape (D, 3) [m].

    Returns
    -------
    Array
        Volume [m3], shape (D,); 0 for a point under the tank, the capacity for one above.
    """
    points = np.broadcast_to(np.asarray(point, float), cut.down.shape)
    return cut.volume_at(-np.einsum("di,di->d", cut.down, points))
