"""Fuel flow of small turbines where the builder has no figure of his own."""

from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats
from plumbing.physics.tables import rows

ML_PER_MIN = 1e-6 / 60.0  # [m3/s]
BELIEVED = (3.1 * ML_PER_MIN, 5.1 * ML_PER_MIN)  # [m3/(s N)] band of engines tested independently
IDLE_SHARE = 0.15  # [-] of full flow, common practice; 0.13 to 0.18 are seen
FLAME_OUT_GAS = (0.30, 0.15, 0.50)  # [-] gas in the feed: likely, low, high; common practice


@cache
def _columns() -> dict[str, Array]:
    table = rows("engine_flow")
    names = ("thrust_n", "full_ml_min", "low_ml_min", "high_ml_min", "idle_ml_min")
    return {name: np.array([float(row[name]) for row in table]) for name in names}


def _interpolated(thrust: ArrayLike, column: str) -> Array:
    known = _columns()
    thrusts = known["thrust_n"]
    specific = known[column] / thrusts
    asked = floats(np.maximum(thrust, 0.0))
    inside = np.interp(asked, thrusts, known[column])
    flow = np.select(
        [asked < thrusts[0], asked > thrusts[-1]],
        [asked * specific[0], asked * specific[-1]],
        inside,
    )
    return floats(flow * ML_PER_MIN)


def full_flow(thrust: ArrayLike) -> Array:
    """Likely fuel flow at full thrust.

    Parameters
    ----------
    thrust : array_like
        Static thrust, 20 to 300 [N]; in proportion beyond.

    Returns
    -------
    Array
        Flow [m3/s]; `full_flow_band` tells how sure it is.

    References
    ----------
    Table of usual engines, common practice; see its source column.
    """
    return _interpolated(thrust, "full_ml_min")


def full_flow_band(thrust: ArrayLike) -> tuple[Array, Array]:
    """Low and high flow at full thrust [m3/s]; argument and source as for `full_flow`."""
    return _interpolated(thrust, "low_ml_min"), _interpolated(thrust, "high_ml_min")


def idle_flow(thrust: ArrayLike) -> Array:
    """Likely flow at idle [m3/s] of an engine of that full thrust; as for `full_flow`."""
    return _interpolated(thrust, "idle_ml_min")
