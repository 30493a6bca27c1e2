"""Means and straight lines with their bands, by Student's t distribution."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from plumbing.frozen import frozen

CHANCE = 0.95  # of a band: 19 of 20 hold what they are given for


@frozen
class Mean:
    """A mean of several values.

    Attributes
    ----------
    count : int
        How many.
    value : float
        The mean.
    band : float
        Half of the band of the mean; infinite for one value.
    beyond : float
        What the next value exceeds the mean by only once in twenty times; infinite for one.
    """

    count: int
    value: float
    band: float
    beyond: float


@frozen
class Line:
    """A straight line through points.

    Attributes
    ----------
    slope, band : float
        Slope, and half of its band.
    start, end : float
        The line at its first and its last point.
    end_band : float
        Half of the band of `end`.
    """

    slope: float
    band: float
    start: float
    end: float
    end_band: float

    @property
    def certain(self) -> bool:
        """Whether the band of the slope does not hold a line without slope."""
        return abs(self.slope) > self.band


def mean_of(values: Sequence[float]) -> Mean:
    """Mean of one value or more, with its band.

    References
    ----------
    Student, The probable error of a mean (1908), from memory.
    """
    count, mean = len(values), math.fsum(values) / len(values)
    if count < 2:
        return Mean(count, mean, math.inf, math.inf)
    spread = math.sqrt(math.fsum((one - mean) ** 2 for one in values) / (count - 1))
    band = _student(count - 1, (1.0 + CHANCE) / 2.0) * spread / math.sqrt(count)
    beyond = _student(count - 1, CHANCE) * spread * math.sqrt(1.0 + 1.0 / count)
    return Mean(count, mean, band, beyond)


def line_through(x: Sequence[float], y: Sequence[float]) -> Line | None:
    """Line of least squares through three points or more; None where x does not change.

    Parameters
    ----------
    x, y : sequence of float
        Points, x rising.

    References
    ----------
    NIST/SEMATECH e-Handbook of Statistical Methods, 4.1.4.1, from memory.
    """
    along, up = np.asarray(x, dtype=float), np.asarray(y, dtype=float)
    middle = along.mean()
    width = float(((along - middle) ** 2).sum())
    if len(along) < 3 or width <= 0.0:
        return None
    slope = float(((along - middle) * (up - up.mean())).sum()) / width
    rest = up - up.mean() - slope * (along - middle)
    freedom = len(along) - 2
    error = math.sqrt(float((rest**2).sum()) / freedom)
    quantile = _student(freedom, (1.0 + CHANCE) / 2.0)
    start, end = (float(up.mean() + slope * (at - middle)) for at in (along[0], along[-1]))
    far = float(along[-1] - middle)
    end_band = quantile * error * math.sqrt(1.0 / len(along) + far**2 / width)
    return Line(slope, quantile * error / math.sqrt(width), start, end, end_band)


def _student(freedom: int, chance: float) -> float:
    """Quantile of Student's t distribution."""
    from scipy.special import stdtrit  # loads a large library that few commands need

    return float(stdtrit(freedom, chance))
