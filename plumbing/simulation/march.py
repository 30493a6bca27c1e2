"""Fuel in the tanks through time: volumes move by the liquid they gain and lose.

Many scenarios march together, each with its own clock. A step ends where a port begins or ends to
uncover, where a tank is empty or full, where a stretch of the run ends, and otherwise where the
estimated error (Heun against Euler) reaches the tolerance.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from plumbing.errors import SolveError
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.simulation.tankage import Tankage

_NEAR = 1e-9  # share of capacity within which a volume counts as being at a mark
_ROUNDING = 1e-12  # share of capacity
_NOTHING = 1e-9  # share of the largest flow up to which the network is solved
_STILL = 1e-30  # [m3/s] a slower flow reaches no mark in any flight
_SHY = 0.999  # the second look is taken just before the end, where a mark has not been passed yet
_LATE = 0.02  # [s] by which a step may go on after a demand has been without fuel too long
_SHORTEST = 1e-4  # [s] a step is not cut below this
_MOST_STEPS = 60_000
_MOST_TRIES = 200  # steps in a row that lead nowhere


@dataclass(frozen=True, slots=True, eq=False)
class Balance:
    """What the network does at one moment, for S scenarios.

    Attributes
    ----------
    rate : Array
        Liquid gained by each tank, shape (S, T) [m3/s].
    burnt : Array
        Liquid taken by each demand, shape (S, P) [m3/s].
    share : Array
        Liquid share each demand receives, shape (S, P) [-].
    spilt : Array
        Liquid leaving through outlets, less liquid entering through them, shape (S,) [m3/s].
    """

    rate: Array
    burnt: Array
    share: Array
    spilt: Array


@dataclass(frozen=True, slots=True, eq=False)
class Stretches:
    """K stretches of constant demand and gravity, one after the other.

    Attributes
    ----------
    duration : Array
        Shape (K,) [s].
    index : Indices
        Direction of gravity of each, a row of the tankage, shape (K,).
    """

    duration: Array
    index: Indices


@dataclass(frozen=True, slots=True, eq=False)
class Moment:
    """State of all scenarios at the end of a step.

    Attributes
    ----------
    time : Array
        Shape (S,) [s].
    stretch : Indices
        Stretch each is in, shape (S,).
    volume : Array
        Fuel in each tank, shape (S, T) [m3].
    burnt : Array
        Liquid taken so far by each demand, shape (S, P) [m3].
    spilt : Array
        Liquid lost so far through outlets, shape (S,) [m3].
    dry : Array
        Time each demand has now been without fuel, shape (S, P) [s].
    share : Array
        Liquid share each demand now receives, shape (S, P) [-].
    """

    time: Array
    stretch: Indices
    volume: Array
    burnt: Array
    spilt: Array
    dry: Array
    share: Array


Balancing = Callable[[Indices, Indices, Array], Balance]
"""From rows of scenarios (R,), their stretch (R,) and volumes (R, T) to the balance there."""

Stopping = Callable[[Moment], Flags]
"""From a moment to which scenarios are over, shape (S,)."""

HALF = 0.5  # a demand that receives less liquid than this is without fuel


def march(
    tanks: Tankage,
    stretches: Stretches,
    volume: Array,
    demands: int,
    balance: Balancing,
    *,
    stop: Stopping | None = None,
    see: Callable[[Moment], None] | None = None,
    tolerance: float = 1e-3,
    patience: float = np.inf,
) -> Moment:
    """March all scenarios to the end of the last stretch, or until they are stopped.

    Parameters
    ----------
    tanks : Tankage
        Tanks under the directions of gravity of the run.
    stretches : Stretches
        The run.
    volume : Array
        Fuel in each tank at the start, shape (S, T) [m3].
    demands : int
        Number P of pumps (and other places that take fuel).
    balance : callable
        The network.
    stop : callable, optional
        Ends scenarios early.
    see : callable, optional
        Shown every moment, the first included.
    tolerance : float
        Error allowed in a step, as share of each tank's capacity.
    patience : float
        A step ends when a demand has been without fuel for so long [s].

    Returns
    -------
    Moment
        State at the end.

    Raises
    ------
    SolveError
        The run is not over after very many steps, or stands still.
    """
    state = _first(volume, demands)
    if see is not None:
        see(state)
    course = _Course(tanks, stretches, _marks(tanks), balance, tolerance, patience)
    trial = np.full(len(volume), np.inf)
    still = 0
    for _ in range(_MOST_STEPS):
        over = state.stretch >= len(stretches.duration)
        if stop is not None:
            over |= stop(state)
        rows = np.flatnonzero(~over)
        if not rows.size:
            break
        before = state.time[rows]
        state, trial = _step(course, state, rows, trial)
        still = 0 if (state.time[rows] > before).any() else still + 1
        if still > _MOST_TRIES:
            raise SolveError(f"the run does not go on after {float(before.min()):.1f} s")
        if see is not None:
            see(state)
    else:
        raise SolveError(f"the run is not over after {_MOST_STEPS} steps")
    return state


def _first(volume: Array, demands: int) -> Moment:
    count = len(volume)
    none = np.zeros((count, demands))
    return Moment(
        time=np.zeros(count),
        stretch=np.zeros(count, dtype=np.intp),
        volume=np.array(volume, float),
        burnt=none,
        spilt=np.zeros(count),
        dry=none,
        share=np.ones((count, demands)),
    )


def _marks(tanks: Tankage) -> Array:
    """Volumes at which something changes, shape (D, T, M), padded with infinity [m3]."""
    found = [
        np.stack(
            [
                *vessel.dry.values(),
                *vessel.covered.values(),
                np.zeros(len(tanks.down)),
                np.full(len(tanks.down), vessel.capacity),
            ],
            axis=-1,
        )
        for vessel in tanks.vessels
    ]
    most = max(marks.shape[-1] for marks in found)
    padded = [
        np.pad(marks, ((0, 0), (0, most - marks.shape[-1])), constant_values=np.inf)
        for marks in found
    ]
    return np.stack(padded, axis=1)


@dataclass(frozen=True, slots=True, eq=False)
class _Course:
    """What stays the same from step to step; `marks` as from `_marks`, the rest as for `march`."""

    tanks: Tankage
    stretches: Stretches
    marks: Array
    balance: Balancing
    tolerance: float
    patience: float


def _step(course: _Course, state: Moment, rows: Indices, trial: Array) -> tuple[Moment, Array]:
    """Step every row; one whose error is too large stays and tries a shorter step."""
    stretches, capacity = course.stretches, course.tanks.capacity
    stretch, before = state.stretch[rows], state.volume[rows]
    left = _ends(stretches)[stretch] - state.time[rows]
    now = course.balance(rows, stretch, before)
    ahead = _to_next_mark(course.marks[stretches.index[stretch]], before, now.rate, capacity)
    ahead = np.minimum(ahead, _to_patience(now.share, state.dry[rows], course.patience))
    length = np.maximum(np.minimum(np.minimum(left, ahead), trial[rows]), 0.0)
    length = np.where(left <= _SHORTEST, left, np.maximum(length, np.minimum(_SHORTEST, left)))
    guess = np.clip(before + _SHY * length[:, None] * now.rate, 0.0, capacity)
    then = course.balance(rows, stretch, guess)
    error = np.max(
        0.5 * length[:, None] * np.abs(then.rate - now.rate) / capacity, axis=1, initial=0.0
    )
    late = _late(length, now.share, then.share, state.dry[rows], course.patience)
    taken = ((error <= course.tolerance) & (late <= _LATE)) | (length <= _SHORTEST)
    length = _within(length, before, 0.5 * (now.rate + then.rate), capacity)
    moved = _moved(state, rows, np.where(taken, length, 0.0), now, then, stretches)
    factor = 0.9 * np.sqrt(course.tolerance / np.maximum(error, 1e-300))
    wanted = length * np.clip(factor, 0.2, 5.0)
    following = trial.copy()
    following[rows] = np.where(
        taken & (length >= left), np.inf, np.where(taken, wanted, np.minimum(wanted, length - late))
    )
    return moved, following


def _ends(stretches: Stretches) -> Array:
    return np.cumsum(stretches.duration)


def _to_next_mark(marks: Array, volume: Array, rate: Array, capacity: Array) -> Array:
    """Time until the first tank reaches a mark at its present rate, shape (R,) [s]."""
    way = marks - volume[:, :, None]
    speed = rate[:, :, None]
    near = np.where(np.isfinite(way), way, 0.0)
    onwards = (near * np.sign(speed) > _NEAR * capacity[:, None]) & (np.abs(speed) > _STILL)
    time = np.where(onwards, way / np.where(onwards, speed, 1.0), np.inf)
    return np.asarray(time.min(axis=(1, 2), initial=np.inf))


def _to_patience(share: Array, dry: Array, patience: float) -> Array:
    """Time until the first demand has been without fuel too long [s]; share and dry (R, P)."""
    waiting = (share < HALF) & (dry < patience)
    return np.asarray(np.where(waiting, patience - dry, np.inf).min(axis=1, initial=np.inf))


def _late(length: Array, now: Array, then: Array, dry: Array, patience: float) -> Array:
    """By how much a step goes on after a demand was without fuel too long [s], 0 or more."""
    lasting = dry + length[:, None] * _dry_part(now, then)
    over = np.where((then < HALF) & (dry < patience), lasting - patience, 0.0)
    return np.asarray(over.max(axis=1, initial=0.0))


def _within(length: Array, volume: Array, gain: Array, capacity: Array) -> Array:
    """Steps [s] cut so that no tank passes empty or full at these mean rates (R, T) [m3/s]."""
    after = volume + length[:, None] * gain
    room = np.where(gain < 0.0, volume, capacity - volume)
    passed = (after < -_ROUNDING * capacity) | (after > (1.0 + _ROUNDING) * capacity)
    passed &= np.abs(gain) > _NOTHING * np.abs(gain).max(axis=1, keepdims=True, initial=0.0)
    time = np.where(passed, np.maximum(room, 0.0) / np.where(passed, np.abs(gain), 1.0), np.inf)
    return np.asarray(np.minimum(length, time.min(axis=1, initial=np.inf)))


def _moved(
    state: Moment,
    rows: Indices,
    length: Array,
    now: Balance,
    then: Balance,
    stretches: Stretches,
) -> Moment:
    """State after steps of these lengths [s] at the mean of both balances."""
    by = length[:, None]
    volume, burnt, spilt = state.volume.copy(), state.burnt.copy(), state.spilt.copy()
    volume[rows] += 0.5 * by * (now.rate + then.rate)
    burnt[rows] += 0.5 * by * (now.burnt + then.burnt)
    spilt[rows] += 0.5 * length * (now.spilt + then.spilt)
    time, stretch = state.time.copy(), state.stretch.copy()
    time[rows] += length
    stretch[rows] += time[rows] >= _ends(stretches)[stretch[rows]] - _SHORTEST
    share, dry = state.share.copy(), state.dry.copy()
    share[rows] = np.where(by > 0, then.share, share[rows])
    lasting = dry[rows] + by * _dry_part(now.share, then.share)
    dry[rows] = np.where((by > 0) & (then.share >= HALF), 0.0, lasting)
    return Moment(time, stretch, volume, burnt, spilt, dry, share)


def _dry_part(now: Array, then: Array) -> Array:
    """Part of a step spent without fuel, if it ends so; shares at both its ends [-]."""
    falls = (now >= HALF) & (then < HALF)
    part: Array = np.where(falls, (HALF - then) / np.where(falls, now - then, 1.0), 1.0)
    return part
