"""Bubbles in tubes and tanks: where they stick and how fast they rise."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats
from plumbing.physics.constants import GRAVITY

LOCK_BOND = 4.0 * 0.842  # [-] on the bore: a long bubble in an upright tube does not rise below
_PASSES = 12  # of Newton's method in the logarithm; 6 reach 1e-12 from Stokes's law


def bond(
    bore: ArrayLike, density: ArrayLike, surface_tension: ArrayLike, gravity: ArrayLike = GRAVITY
) -> Array:
    """Bond number on the bore [-]; bore [m], density [kg/m3], tension [N/m], gravity [m/s2]."""
    return floats(density) * floats(gravity) * floats(bore) ** 2 / floats(surface_tension)


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


def long_bubble_speed(
    bore: ArrayLike,
    density: ArrayLike,
    viscosity: ArrayLike,
    surface_tension: ArrayLike,
    gravity: ArrayLike = GRAVITY,
) -> Array:
    """Speed at which a bubble that fills an upright tube rises through still liquid.

    Parameters
    ----------
    bore, density, viscosity, surface_tension, gravity : array_like
        [m], [kg/m3], dynamic [Pa s], [N/m], [m/s2].

    Returns
    -------
    Array
        Speed [m/s], 0 in a tube that locks the bubble.

    References
    ----------
    G. B. Wallis, One-dimensional Two-phase Flow, 1969, from memory; Dumitrescu's 0.345 in wide
    tubes of thin liquid.
    """
    bore, g = floats(bore), floats(gravity)
    thin = np.sqrt(g * bore**3) * floats(density) / floats(viscosity)
    tension = np.select(
        [thin > 250.0, thin > 18.0], [10.0, 69.0 * np.maximum(thin, 1.0) ** -0.35], 25.0
    )
    over = np.maximum(bond(bore, density, surface_tension, g) - 3.37, 0.0)
    factor: Array = 0.345 * np.expm1(-0.01 * thin / 0.345) * np.expm1(-over / tension)
    return factor * np.sqrt(g * bore)


def bubble_rise_speed(
    diameter: ArrayLike,
    density: ArrayLike,
    viscosity: ArrayLike,
    surface_tension: ArrayLike,
    gravity: ArrayLike = GRAVITY,
) -> Array:
    """Speed at which a small bubble rises in a tank.

    Parameters
    ----------
    diameter : array_like
        Diameter of the bubble, 0 to 20 mm [m].
    density, viscosity, surface_tension, gravity : array_like
        Of the liquid [kg/m3], dynamic [Pa s], [N/m]; effective gravity [m/s2].

    Returns
    -------
    Array
        Speed [m/s]: that of a rigid sphere, since fuel is never clean enough for a slipping
        surface, and no more than the wave speed that governs large bubbles.

    References
    ----------
    Stokes's law with the drag of Schiller and Naumann 1933; Mendelson 1967 for large bubbles,
    from memory.
    """
    size = floats(np.maximum(diameter, 1e-9))
    rho, mu, g = floats(density), floats(viscosity), floats(gravity)
    sphere = _sphere_reynolds(g * (rho / mu) ** 2 * size**3) * mu / (rho * size)
    wave = np.sqrt(2.14 * floats(surface_tension) / (rho * size) + 0.505 * g * size)
    return floats(np.minimum(sphere, wave))


def _sphere_reynolds(galileo: Array) -> Array:
    """Reynolds number at which drag on a sphere balances its weight, ``18 Re (...) = Ga``."""
    log = np.log(floats(np.maximum(galileo, 1e-30)) / 18.0)
    number = log
    for _ in range(_PASSES):
        extra = 0.15 * np.exp(0.687 * number)
        slope = 1.0 + 0.687 * extra / (1.0 + extra)
        number = number - (number + np.log1p(extra) - log) / slope
    return np.exp(number)


def downflow_speed(flow: ArrayLike, area: ArrayLike) -> Array:
    """Mean speed [m/s] at which fuel sinks through a header of plan area [m2] at a flow [m3/s]."""
    return floats(flow) / floats(np.maximum(area, 1e-12))
