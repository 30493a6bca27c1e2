"""Kinematic viscosity of petroleum liquids over temperature, and of two mixed."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats
from plumbing.physics.constants import MM2_PER_S, ZERO_CELSIUS

THINNEST = 0.21e-6  # [m2/s] the standard goes no lower; lower values are taken as this one
_STIFFEST = 1.0  # log10 log10 Z is held here, so that nothing overflows in deep cold


def walther_fit(
    celsius_1: ArrayLike,
    nu_1: ArrayLike,
    celsius_2: ArrayLike,
    nu_2: ArrayLike,
    zero: float = ZERO_CELSIUS,
) -> tuple[Array, Array]:
    """Constants of the viscosity line through two measured points.

    Parameters
    ----------
    celsius_1, celsius_2 : array_like
        Two different temperatures [degC].
    nu_1, nu_2 : array_like
        Kinematic viscosities there [m2/s], 0.21e-6 or more.
    zero : float
        Ice point [K]; older examples round it to 273.

    Returns
    -------
    a, b : tuple of Array
        Constants of ``log10 log10 Z = a - b log10 T`` [-].

    Raises
    ------
    ValueError
        If the two temperatures are the same.

    References
    ----------
    ASTM D341, with the full form of Z for viscosities below 2 mm2/s.
    """
    first = np.log10(floats(celsius_1) + zero)
    second = np.log10(floats(celsius_2) + zero)
    if np.any(first == second):
        raise ValueError("two different temperatures are needed for a viscosity line")
    low, high = (np.log10(np.log10(walther_z(nu))) for nu in (nu_1, nu_2))
    b = (low - high) / (second - first)
    return low + b * first, b


def walther_viscosity(
    celsius: ArrayLike, a: ArrayLike, b: ArrayLike, zero: float = ZERO_CELSIUS
) -> Array:
    """Kinematic viscosity [m2/s] at a temperature [degC] on the line `a`, `b` of `walther_fit`.

    The published inverse gives the fitted points back to 1.5e-4; above the freezing point of
    the liquid only. References: ASTM D341.
    """
    height = floats(a) - np.multiply(b, np.log10(floats(celsius) + zero))
    return viscosity_of_z(10.0 ** (10.0 ** np.minimum(height, _STIFFEST)))


def walther_z(nu: ArrayLike) -> Array:
    """Z of ASTM D341 [-] for a kinematic viscosity [m2/s]."""
    mm2 = np.maximum(nu, THINNEST) / MM2_PER_S
    return mm2 + 0.7 + np.exp(-1.47 - 1.84 * mm2 - 0.51 * mm2**2)


def viscosity_of_z(z: ArrayLike) -> Array:
    """Kinematic viscosity [m2/s] for Z of ASTM D341 [-], by the published inverse."""
    mm2 = floats(z) - 0.7
    small = np.clip(mm2, 0.0, 20.0)  # beyond 20 the correction is zero
    correction = np.exp(-0.7487 - 3.295 * small + 0.6119 * small**2 - 0.3193 * small**3)
    return np.maximum(mm2 - correction, THINNEST / MM2_PER_S) * MM2_PER_S


def refutas(nu_fuel: ArrayLike, nu_oil: ArrayLike, oil_mass_share: ArrayLike) -> Array:
    """Kinematic viscosity of a mixture of two liquids at one temperature.

    Parameters
    ----------
    nu_fuel, nu_oil : array_like
        Kinematic viscosities of the two at that temperature [m2/s], 0.21e-6 or more.
    oil_mass_share : array_like
        Mass of the second over the mass of both [-], 0 to 1.

    Returns
    -------
    Array
        Kinematic viscosity [m2/s]; rules of this kind differ by 8 % for 5 % of oil.

    References
    ----------
    Refutas, as given in Maples, Petroleum Refinery Process Economics, 2nd edition.
    """
    share = np.clip(oil_mass_share, 0.0, 1.0)
    number = (1.0 - share) * blending_number(nu_fuel) + share * blending_number(nu_oil)
    return (np.exp(np.exp((number - 10.975) / 14.534)) - 0.8) * MM2_PER_S


def blending_number(nu: ArrayLike) -> Array:
    """Refutas' viscosity blending number [-] of a kinematic viscosity [m2/s]."""
    mm2 = np.maximum(nu, THINNEST) / MM2_PER_S
    return np.asarray(14.534 * np.log(np.log(mm2 + 0.8)) + 10.975)
