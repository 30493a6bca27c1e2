"""Usual values of engines and fluids that a layout may leave out."""

IDLE = 0.15
IDLE_SOURCE = "15 % of full flow, common practice (13 to 18 %)"
FEED_FULL = 400e3
FEED_FULL_SOURCE = "common practice, 300 to 600 kPa: case pressure, nozzles and valve"
FEED_IDLE = 40e3
FEED_IDLE_SOURCE = "common practice, 20 to 60 kPa"
CLUNK = 0.02  # length of a clunk beyond its hose [m]
OIL = "turbine-oil"

# Fuel flow per thrust [ml/min/N] below each thrust [N].
_PER_NEWTON = ((120.0, 3.7), (200.0, 3.4), (float("inf"), 3.3))
_ML_PER_MIN = 1e-6 / 60.0


def full_flow(thrust: float) -> tuple[float, str]:
    """Fuel flow at full throttle, and whose rule it is.

    Parameters
    ----------
    thrust : float
        Static thrust [N].

    Returns
    -------
    flow : float
        Volume flow [m3/s], plus or minus 12 %.
    source : str
        The rule in words.
    """
    rate = next(rate for limit, rate in _PER_NEWTON if thrust <= limit)
    return rate * thrust * _ML_PER_MIN, f"{rate} ml/min per N of thrust, common practice, +-12 %"
