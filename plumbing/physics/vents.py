"""Pressure the airstream puts on the open end of a vent."""

from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats
from plumbing.physics.tables import rows


def dynamic_pressure(airspeed: ArrayLike, density: ArrayLike = 1.225) -> Array:
    """Dynamic pressure [Pa] of air at a speed [m/s] and density [kg/m3]."""
    return 0.5 * floats(density) * floats(airspeed) ** 2


@cache
def facing_coefficient(facing: str) -> tuple[float, float, float]:
    """Pressure coefficient of an opening: likely, low and high [-].

    Parameters
    ----------
    facing : {'forward', 'aft', 'side', 'down', 'up', 'flush'}
        Which way the opening looks; KeyError for another word.

    References
    ----------
    Stagnation pressure facing forward; the rest common practice.
    """
    for row in rows("outlets"):
        if row["facing"] == facing:
            return float(row["likely"]), float(row["low"]), float(row["high"])
    raise KeyError(facing)


def angle_coefficient(angle: ArrayLike) -> tuple[Array, Array, Array]:
    """Pressure coefficient of an opening by the angle of its axis to the stream.

    Parameters
    ----------
    angle : array_like
        0 looking forward, pi looking aft; of either sign [rad].

    Returns
    -------
    likely, low, high : tuple of Array
        Coefficients [-], straight between forward, across and aft. Common practice.
    """
    turned = np.abs(np.arctan2(np.sin(angle), np.cos(angle)))
    at = [0.0, 0.5 * np.pi, np.pi]
    known = [facing_coefficient(word) for word in ("forward", "side", "aft")]
    likely, low, high = (np.interp(turned, at, [one[i] for one in known]) for i in range(3))
    return floats(likely), floats(low), floats(high)


def outlet_pressure(
    airspeed: ArrayLike, coefficient: ArrayLike, density: ArrayLike = 1.225
) -> Array:
    """Gauge pressure [Pa] at an opening of that pressure coefficient [-]; others as above."""
    return floats(coefficient) * dynamic_pressure(airspeed, density)
