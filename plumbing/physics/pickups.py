"""Fine-pore pickups: wet pores let fuel through and hold air back up to the bubble point."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats


def bubble_point(
    surface_tension: ArrayLike, pore: ArrayLike, contact_angle: ArrayLike = 0.0
) -> Array:
    """Pressure across a wet pore at which air breaks through.

    Parameters
    ----------
    surface_tension : array_like
        Surface tension [N/m].
    pore : array_like
        Diameter of the largest pore, above 0 [m].
    contact_angle : array_like
        Contact angle [rad], 0 for a liquid that wets fully; nothing is held from a right angle.

    Returns
    -------
    Array
        Bubble point [Pa].

    References
    ----------
    Young and Laplace for a round pore.
    """
    wetting = floats(np.maximum(np.cos(contact_angle), 0.0))
    return 4.0 * floats(surface_tension) * wetting / floats(pore)
