"""Dry air as an ideal gas."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats
from plumbing.physics.constants import ATMOSPHERE, ZERO_CELSIUS

GAS_CONSTANT = 8314.32 / 28.9644  # [J/(kg K)] as in the 1976 standard atmosphere
_HEAT_RATIO = 1.4


def density(celsius: ArrayLike, pressure: ArrayLike = ATMOSPHERE) -> Array:
    """Density [kg/m3] at a temperature [degC] and absolute pressure [Pa]. Ideal gas."""
    return floats(pressure) / (GAS_CONSTANT * _kelvin(celsius))


def dynamic_viscosity(celsius: ArrayLike) -> Array:
    """Dynamic viscosity [Pa s] at a temperature [degC], -100 to 500.

    References
    ----------
    Sutherland's law with the constants of the 1976 US Standard Atmosphere.
    """
    kelvin = _kelvin(celsius)
    return 1.458e-6 * kelvin**1.5 / (kelvin + 110.4)


def speed_of_sound(celsius: ArrayLike) -> Array:
    """Speed of sound [m/s] at a temperature [degC]. Ideal gas, heat ratio 1.4."""
    return np.sqrt(_HEAT_RATIO * GAS_CONSTANT * _kelvin(celsius))


def _kelvin(celsius: ArrayLike) -> Array:
    """Absolute temperature [K], held above 1 K."""
    return np.maximum(floats(celsius) + ZERO_CELSIUS, 1.0)
