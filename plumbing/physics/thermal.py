"""What warming does to fuel in a tank."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats
from plumbing.physics.constants import ATMOSPHERE, ZERO_CELSIUS
from plumbing.physics.fuel_density import density

BULK_MODULUS = 1.3e9  # [Pa] of kerosene at room temperature, from memory


def volume_ratio(celsius_from: ArrayLike, celsius_to: ArrayLike, density_15: ArrayLike) -> Array:
    """Volume of fuel after a change of temperature over that before.

    Parameters
    ----------
    celsius_from, celsius_to : array_like
        Temperatures [degC].
    density_15 : array_like
        Density at 15 degC [kg/m3].

    Returns
    -------
    Array
        Ratio of volumes [-].

    References
    ----------
    ASTM D1250 as in `fuel_density.density`.
    """
    return density(celsius_from, density_15) / density(celsius_to, density_15)


def capped_pressure(
    fill: ArrayLike,
    celsius_from: ArrayLike,
    celsius_to: ArrayLike,
    density_15: ArrayLike,
    ambient: ArrayLike = ATMOSPHERE,
) -> Array:
    """Gauge pressure in a rigid tank that is capped with an air space, then warmed.

    Parameters
    ----------
    fill : array_like
        Share of the tank filled when it is capped [-], 0 to 1.
    celsius_from, celsius_to : array_like
        Temperatures when capped and now [degC].
    density_15 : array_like
        Density at 15 degC [kg/m3].
    ambient : array_like
        Absolute pressure outside [Pa].

    Returns
    -------
    Array
        Gauge pressure [Pa]: air as an ideal gas, squeezed by the fuel; `brim_full_bound` where
        no air is left.
    """
    share = floats(np.clip(fill, 0.0, 1.0))
    swollen = share * volume_ratio(celsius_from, celsius_to, density_15)
    warmer = (floats(celsius_to) + ZERO_CELSIUS) / (floats(celsius_from) + ZERO_CELSIUS)
    room = floats(np.maximum(1.0 - swollen, 1e-12))
    gas = floats(ambient) * (warmer * (1.0 - share) / room - 1.0)
    bound = brim_full_bound(celsius_from, celsius_to, density_15)
    return floats(np.where(swollen >= 1.0, bound, gas))


def brim_full_bound(celsius_from: ArrayLike, celsius_to: ArrayLike, density_15: ArrayLike) -> Array:
    """Pressure rise of a tank capped brim-full, then warmed, if nothing gives.

    Arguments as for `volume_ratio`.

    Returns
    -------
    Array
        Rise [Pa], 0 when cooled. An upper bound: a real tank swells or bursts long before.
    """
    strain = np.log(volume_ratio(celsius_from, celsius_to, density_15))
    return floats(np.maximum(BULK_MODULUS * strain, 0.0))
