"""Pressure the airstream puts on the open end of a vent."""

from functools import cache

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


def outlet_pressure(
    airspeed: ArrayLike, coefficient: ArrayLike, density: ArrayLike = 1.225
) -> Array:
    """Gauge pressure [Pa] at an opening of that pressure coefficient [-]; others as above."""
    return floats(coefficient) * dynamic_pressure(airspeed, density)
