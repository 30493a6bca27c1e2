"""Bubbles in tubes and tanks: where they stick and how fast they rise."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats
from plumbing.physics.constants import GRAVITY

LOCK_BOND = 4.0 * 0.842  # [-] on the bore: a long bubble in an upright tube does not rise below


def capillary_lock_bore(
    density: ArrayLike, surface_tension: ArrayLike, gravity: ArrayLike = GRAVITY
) -> Array:
    """Largest bore in which surface tension locks a bubble.

    Parameters
    ----------
    density, surface_tension, gravity : array_like
        Of the liquid [kg/m3], [N/m]; effective gravity [m/s2].

    Returns
    -------
    Array
        Bore [m]; a bubble in a narrower tube goes where the flow pushes it.

    References
    ----------
    F. P. Bretherton, J. Fluid Mech. 10, 1961: Bond number 0.842 on the radius; from memory.
    """
    weight = floats(np.maximum(floats(density) * floats(gravity), 1e-9))
    return np.sqrt(LOCK_BOND * floats(surface_tension) / weight)
