"""A recorded flight in fewer stretches: time and fuel kept exactly, the rest within bounds."""

from __future__ import annotations

import math

import numpy as np

from plumbing.frozen import frozen
from plumbing.physics.arrays import Array, Indices
from plumbing.physics.constants import GRAVITY

WEIGHTLESS = 0.05  # load below which the direction of gravity is noise [g]
TURN = math.radians(3.0)  # direction of gravity stays within this of its mean [rad]
LOAD = 0.15  # its size within this share, or this part of a g
FLOW = 0.05  # flow within this share
STEADY = 0.2  # a change within this share of the bounds counts as none
LONGEST = 5.0  # a stretch that changes lasts no longer [s]
MOST_DIRECTIONS = 400
_GRIDS = (1.0, 2.0, 3.0, 5.0, 8.0, 12.0)  # widths tried for the cells of directions [deg]


@frozen(eq=False)
class Samples:
    """N samples of a flight, each holding for its own time.

    Attributes
    ----------
    duration : Array
        Shape (N,) [s].
    gravity : Array
        Effective gravity, shape (N, 3) [m/s2].
    flow : Array
        Shape (N,) [m3/s], or throttle [-].
    others : Array
        Whatever else is averaged over time, shape (N, M).
    """

    duration: Array
    gravity: Array
    flow: Array
    others: Array

    def merged(self, group: Indices) -> Samples:
        """Means over time of groups, numbered from 0 in order; shape (N,) to (K,)."""
        starts = np.flatnonzero(np.diff(group, prepend=-1))
        duration = np.add.reduceat(self.duration, starts)

        def mean(values: Array) -> Array:
            weight = self.duration if values.ndim == 1 else self.duration[:, None]
            total = np.add.reduceat(weight * values, starts, axis=0)
            return np.asarray(total / (duration if values.ndim == 1 else duration[:, None]))

        return Samples(duration, mean(self.gravity), mean(self.flow), mean(self.others))


def blocks(time: Array, smoothing: float) -> Indices:
    """Blocks of at least `smoothing` [s] over which noise is averaged.

    Parameters
    ----------
    time : Array
        Begin of each sample, rising, shape (N,) [s].
    smoothing : float
        Length of a block [s]; below a millisecond every sample stays by itself.

    Returns
    -------
    Indices
        Block of each sample, from 0 in order, shape (N,).
    """
    if smoothing < 1e-3:
        return np.arange(len(time))
    number = np.floor((time - time[0]) / smoothing + 1e-6)
    return np.cumsum(np.diff(number, prepend=number[0]) > 0)


def with_direction(gravity: Array) -> Array:
    """Effective gravity that always points somewhere.

    Where next to nothing is felt the fuel stays where it was: the last direction before it is
    kept (the first there is, at the beginning; level where there is none), at its own size.

    Parameters
    ----------
    gravity : Array
        Shape (N, 3) [m/s2].
    """
    size = np.linalg.norm(gravity, axis=1)
    felt = size >= WEIGHTLESS * GRAVITY
    if felt.all():
        return gravity
    if not felt.any():
        return np.tile([0.0, 0.0, -GRAVITY], (len(gravity), 1))
    last = np.maximum.accumulate(np.where(felt, np.arange(len(size)), -1))
    last = np.where(last < 0, int(np.argmax(felt)), last)
    small = np.maximum(size, 1e-6 * GRAVITY)[:, None]
    kept: Array = np.where(felt[:, None], gravity, small * gravity[last] / size[last][:, None])
    return kept


def stretches(samples: Samples, breaks: Array) -> Indices:
    """Stretches over which gravity and flow stay within bounds of their running means.

    Parameters
    ----------
    samples : Samples
        N samples, with `with_direction` applied.
    breaks : Array
        A stretch ends where this changes, shape (N,).

    Returns
    -------
    Indices
        Stretch of each sample, from 0 in order, shape (N,).
    """
    floor = 0.01 * float(samples.flow.max(initial=0.0))
    group, number, running = np.empty(len(breaks), dtype=np.intp), 0, _Running()
    rows = zip(
        samples.duration.tolist(),
        samples.gravity.tolist(),
        samples.flow.tolist(),
        np.diff(breaks, prepend=breaks[:1]).astype(bool).tolist(),
        strict=True,
    )
    for row, (duration, gravity, flow, broken) in enumerate(rows):
        if row and (broken or not running.takes(duration, gravity, flow, floor)):
            number, running = number + 1, _Running()
        running.add(duration, gravity, flow)
        group[row] = number
    return group


class _Running:
    """Sums of a stretch that grows."""

    __slots__ = ("first", "flow", "steady", "time", "x", "y", "z")

    def __init__(self) -> None:
        self.time = self.flow = self.x = self.y = self.z = 0.0
        self.first: tuple[list[float], float] | None = None
        self.steady = True

    def takes(self, duration: float, gravity: list[float], flow: float, floor: float) -> bool:
        """Whether the next sample belongs to it."""
        mean = (self.x / self.time, self.y / self.time, self.z / self.time)
        change = _change(mean, self.flow / self.time, gravity, flow, floor)
        if change > 1.0:
            return False
        if self.first is not None:
            change = max(change, _change(self.first[0], self.first[1], gravity, flow, floor))
        self.steady = self.steady and change <= STEADY
        return self.steady or self.time + duration <= LONGEST

    def add(self, duration: float, gravity: list[float], flow: float) -> None:
        """Take a sample."""
        if self.first is None:
            self.first = (gravity, flow)
        self.time += duration
        self.flow += duration * flow
        self.x += duration * gravity[0]
        self.y += duration * gravity[1]
        self.z += duration * gravity[2]


def _change(
    gravity: tuple[float, float, float] | list[float],
    flow: float,
    other: list[float],
    new: float,
    floor: float,
) -> float:
    """Change as a multiple of the bounds."""
    size, fresh = math.hypot(*gravity), math.hypot(*other)
    cross = math.hypot(
        gravity[1] * other[2] - gravity[2] * other[1],
        gravity[2] * other[0] - gravity[0] * other[2],
        gravity[0] * other[1] - gravity[1] * other[0],
    )
    dot = gravity[0] * other[0] + gravity[1] * other[1] + gravity[2] * other[2]
    return max(
        math.atan2(cross, dot) / TURN,
        abs(fresh - size) / (LOAD * max(size, GRAVITY)),
        abs(new - flow) / max(FLOW * abs(flow), floor, 1e-300),
    )


def few_directions(gravity: Array, duration: Array) -> Array:
    """Effective gravity with a bounded number of directions, sizes unchanged.

    Directions in one cell of a grid round the sphere become their mean over time; the grid is
    the finest that leaves at most `MOST_DIRECTIONS`. Straight down is the middle of a cell.

    Parameters
    ----------
    gravity : Array
        Shape (K, 3) [m/s2], with `with_direction` applied.
    duration : Array
        Shape (K,) [s].
    """
    size = np.linalg.norm(gravity, axis=1)
    unit = gravity / size[:, None]
    index = np.zeros(len(gravity), dtype=np.intp)
    for width in _GRIDS:
        _, index = np.unique(_cell(unit, math.radians(width)), return_inverse=True)
        index = np.asarray(index).reshape(-1)
        if index.max(initial=0) < MOST_DIRECTIONS:
            break
    mean = np.zeros((int(index.max(initial=0)) + 1, 3))
    np.add.at(mean, index, unit * duration[:, None])
    mean /= np.linalg.norm(mean, axis=1)[:, None]
    few: Array = size[:, None] * mean[index]
    return few


def _cell(unit: Array, width: float) -> Indices:
    """Number of the cell of a grid of bands about straight down, shape (K,)."""
    tilt = np.arccos(np.clip(-unit[:, 2], -1.0, 1.0))
    band = np.rint(tilt / width)
    sectors = np.maximum(1.0, np.rint(2.0 * math.pi * np.sin(band * width) / width))
    heading = np.arctan2(unit[:, 1], unit[:, 0]) / (2.0 * math.pi)
    sector = np.mod(np.rint(heading * sectors), sectors)
    return np.asarray(band * 100_000 + sector, dtype=np.intp)
