"""Density of petroleum liquids over temperature."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats

_BASE_F = 59.0  # 15 degC
_TABLE_F = 60.0  # base temperature of the constants
_LIGHTEST, _HEAVIEST = 653.0, 1075.0  # [kg/m3] ends of the tables
_GROUPS = (  # least density at 60 degF [kg/m3], K0, K1, K2; heaviest group first
    (838.3127, 103.8720, 0.2701, 0.0),  # fuel oils, diesel among them
    (787.5195, 330.3010, 0.0, 0.0),  # jet fuels
    (770.3520, 1489.0670, 0.0, -0.0018684),  # transition
    (0.0, 192.4571, 0.2438, 0.0),  # gasolines
)


def density(celsius: ArrayLike, density_15: ArrayLike) -> Array:
    """Density of a petroleum product.

    Parameters
    ----------
    celsius : array_like
        Temperature [degC]; the tables go from -18 to 95, published rows to -40, and the formula
        is used as it stands beyond.
    density_15 : array_like
        Density at 15 degC [kg/m3], 653 to 1075; outside, the expansion of the nearest end of
        the tables is used.

    Returns
    -------
    Array
        Density at the temperature and atmospheric pressure [kg/m3], in the broadcast shape.

    References
    ----------
    ASTM D1250 / API MPMS 11.1, 1980 form, tables 6B and 54B: constants and API ranges as a
    tank-gauge manual prints them; the form and the limits of the groups in kg/m3 from memory.
    """
    base = floats(density_15)
    at_60 = base
    for _ in range(5):  # each pass gains three digits
        at_60 = base / _factor(_BASE_F, at_60)
    return at_60 * _factor(floats(celsius) * 1.8 + 32.0, at_60)


def expansion_60(density_60: ArrayLike) -> Array:
    """Expansion coefficient at 60 degF [1/degF] of a product of that density there [kg/m3]."""
    rho = np.clip(floats(density_60), _LIGHTEST, _HEAVIEST)
    return np.select(
        [rho >= group[0] for group in _GROUPS],
        [k0 / rho**2 + k1 / rho + k2 for _, k0, k1, k2 in _GROUPS],
    )


def _factor(fahrenheit: ArrayLike, density_60: Array) -> Array:
    """Volume correction factor from 60 degF [-]."""
    warmed = expansion_60(density_60) * (floats(fahrenheit) - _TABLE_F)
    return np.exp(-warmed * (1.0 + 0.8 * warmed))
