"""Fine-pore pickups: wet pores let fuel through and hold air back up to the bubble point."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats

_LEAST_WETTED = 1e-6


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


def held_depth(pressure: ArrayLike, density: ArrayLike, gravity: ArrayLike) -> Array:
    """Depth of fuel [m] whose weight is that pressure [Pa]; density [kg/m3], gravity [m/s2]."""
    weight = floats(density) * floats(gravity)
    return floats(pressure) / floats(np.maximum(weight, 1e-9))


def porous_drop(drop_wetted: ArrayLike, wetted_share: ArrayLike) -> Array:
    """Drop of a partly uncovered pickup.

    Parameters
    ----------
    drop_wetted : array_like
        Drop at the flow with the whole surface in fuel [Pa].
    wetted_share : array_like
        Part of the surface still in fuel [-], 0 to 1; held at 1e-6 below it.

    Returns
    -------
    Array
        Drop [Pa]: the same flow through less surface.

    References
    ----------
    Darcy's law.
    """
    return floats(drop_wetted) / floats(np.clip(wetted_share, _LEAST_WETTED, 1.0))


def breakthrough_share(drop_wetted: ArrayLike, held: ArrayLike, head: ArrayLike = 0.0) -> Array:
    """Wetted share [-] below which air breaks through.

    Parameters
    ----------
    drop_wetted : array_like
        Drop at the flow with the whole surface in fuel [Pa].
    held : array_like
        Bubble point [Pa].
    head : array_like
        Weight of fuel that hangs on the uncovered part [Pa].

    Returns
    -------
    Array
        Share from 0 to 1; 1 where the head alone breaks through.
    """
    left = floats(np.maximum(floats(held) - floats(head), 1e-12))
    return floats(np.clip(floats(drop_wetted) / left, 0.0, 1.0))
