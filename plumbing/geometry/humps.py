"""High and low points of a line: where air gathers and where fuel stands."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.frozen import frozen
from plumbing.physics.arrays import Array, Flags

LEAST = 1e-9  # rise that counts [m]


@frozen(eq=False)
class Extrema:
    """Heights of a line's points in D directions.

    Attributes
    ----------
    heights : Array
        Height of each point [m], shape (D, N).
    rise : Array
        How far a point stands above the lowest points on both its sides, the smaller of the
        two [m], shape (D, N): at the top of an inverted U, its height.
    sag : Array
        How far a point hangs below the highest points on both its sides, the smaller of the
        two [m], shape (D, N): at the bottom of a U, its depth.
    high, low : Flags
        Whether it is a highest or lowest inner point of its surroundings, shape (D, N); of a
        level stretch the first point is marked.
    """

    heights: Array
    rise: Array
    sag: Array
    high: Flags
    low: Flags

    @property
    def deepest_sag(self) -> Array:
        """Depth of the deepest U [m], shape (D,); 0 where there is none."""
        depth: Array = np.where(self.low, self.sag, 0.0).max(axis=1)
        return depth


def extrema(points: ArrayLike, up: ArrayLike) -> Extrema:
    """High and low points of a line along one or many directions.

    Parameters
    ----------
    points : array_like
        Points in order [m], shape (N, 3); sample a rounded line first.
    up : array_like
        Unit vectors against effective gravity [-], shape (D, 3) or (3,).
    """
    path = np.asarray(points, float)
    heights = np.atleast_2d(np.asarray(up, float)) @ path.T
    rise, high = _peaks(heights)
    sag, low = _peaks(-heights)
    return Extrema(heights, rise, sag, high, low)


def _peaks(heights: Array) -> tuple[Array, Flags]:
    """Rise of each point above both sides, and whether it is an inner summit."""
    before = np.minimum.accumulate(heights, axis=1)
    after = np.minimum.accumulate(heights[:, ::-1], axis=1)[:, ::-1]
    rise = heights - np.maximum(before, after)
    climbing = np.diff(heights, axis=1) > LEAST
    falling = np.diff(heights, axis=1) < -LEAST
    count = heights.shape[1]
    summit = np.zeros(heights.shape, dtype=bool)
    if count < 3:
        return rise, summit
    # The next change after each step decides: a level stretch ends in a fall or in a climb.
    ahead = np.where(falling, -1, np.where(climbing, 1, 0))
    following = np.zeros(heights.shape, dtype=int)
    for k in range(count - 2, -1, -1):
        following[:, k] = np.where(ahead[:, k] != 0, ahead[:, k], following[:, k + 1])
    summit[:, 1:-1] = climbing[:, :-1] & (following[:, 1:-1] < 0)
    return rise, summit
