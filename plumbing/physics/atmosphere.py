"""The 1976 US Standard Atmosphere below 11 km, over geometric altitude.

References
----------
U.S. Standard Atmosphere, 1976, NOAA, NASA and USAF: constants of the lowest layer.
"""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics import air
from plumbing.physics.arrays import Array, floats
from plumbing.physics.constants import ATMOSPHERE, GRAVITY, ZERO_CELSIUS

_EARTH_RADIUS = 6356766.0  # [m]
_GROUND = 288.15  # [K]
_LAPSE = 0.0065  # [K/m]
_LOWEST, _HIGHEST = -5000.0, 11000.0  # [m]


def temperature(altitude: ArrayLike) -> Array:
    """Temperature [K] at a geometric altitude [m], -5000 to 11 000; held at those ends."""
    height = floats(np.clip(altitude, _LOWEST, _HIGHEST))
    geopotential = _EARTH_RADIUS * height / (_EARTH_RADIUS + height)
    return _GROUND - _LAPSE * geopotential


def pressure(altitude: ArrayLike) -> Array:
    """Absolute pressure [Pa] at a geometric altitude [m], as for `temperature`."""
    exponent = GRAVITY / (air.GAS_CONSTANT * _LAPSE)
    return ATMOSPHERE * (temperature(altitude) / _GROUND) ** exponent


def density(altitude: ArrayLike) -> Array:
    """Density [kg/m3] at a geometric altitude [m], as for `temperature`."""
    return air.density(temperature(altitude) - ZERO_CELSIUS, pressure(altitude))


def speed_of_sound(altitude: ArrayLike) -> Array:
    """Speed of sound [m/s] at a geometric altitude [m], as for `temperature`."""
    return air.speed_of_sound(temperature(altitude) - ZERO_CELSIUS)
