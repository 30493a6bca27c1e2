"""Air dissolved in fuel, and how much comes out when the pressure falls."""

import math

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats
from plumbing.physics.constants import ZERO_CELSIUS

GASES = {"air": 0.098, "nitrogen": 0.069, "oxygen": 0.16}  # Ostwald coefficient at 0 degC, 850
_NO_PRESSURE = 1.0  # [Pa] absolute pressures under this are taken as this


def ostwald(celsius: ArrayLike, density_15: ArrayLike, gas: str = "air") -> Array:
    """Volume of gas that saturated fuel holds, per volume of fuel.

    Parameters
    ----------
    celsius : array_like
        Temperature [degC], -45 to 150; held at those ends.
    density_15 : array_like
        Density at 15 degC [kg/m3], 630 to 900; held at those ends.
    gas : {'air', 'nitrogen', 'oxygen'}
        The gas above the fuel.

    Returns
    -------
    Array
        Ostwald coefficient [-]: gas volume at the temperature and partial pressure of the gas.
        Uncertain by 10 %: the constant of air does not agree better with those of its parts.

    References
    ----------
    Form of ASTM D2779; its formula and constants from memory.
    """
    kelvin = floats(np.clip(floats(celsius) + ZERO_CELSIUS, 228.0, 423.0))
    grams = floats(np.clip(density_15, 630.0, 900.0)) / 1000.0
    slope = 0.639 * math.log(3.333 * GASES[gas])
    standard = 0.300 * np.exp(slope * (700.0 - kelvin) / kelvin)
    return 7.70 * standard * (0.980 - grams)


def released_volume_ratio(
    ostwald_coefficient: ArrayLike, saturated_at: ArrayLike, pressure: ArrayLike
) -> Array:
    """Free gas per volume of fuel once saturated fuel has come to rest at a lower pressure.

    Parameters
    ----------
    ostwald_coefficient : array_like
        See `ostwald` [-].
    saturated_at, pressure : array_like
        Absolute pressures the fuel was saturated at and is brought to [Pa].

    Returns
    -------
    Array
        Gas volume at `pressure` over fuel volume [-]; 0 where the pressure does not fall. An
        upper bound: gas comes out slowly where nothing seeds bubbles. Vapour is left out.

    References
    ----------
    Henry's law and the ideal gas.
    """
    low = floats(np.maximum(pressure, _NO_PRESSURE))
    fall = floats(np.maximum(floats(saturated_at) - low, 0.0))
    return floats(ostwald_coefficient) * fall / low


def void_fraction(
    ostwald_coefficient: ArrayLike, saturated_at: ArrayLike, pressure: ArrayLike
) -> Array:
    """Gas volume over the volume of gas and fuel [-]; arguments as `released_volume_ratio`."""
    ratio = released_volume_ratio(ostwald_coefficient, saturated_at, pressure)
    return ratio / (1.0 + ratio)
