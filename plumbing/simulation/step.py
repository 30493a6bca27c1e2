"""One step of a run.

It ends where a port begins or ends to uncover, where a tank is empty or full, where a stretch of
the run ends, and otherwise where the estimated error (Heun against Euler) reaches the tolerance.
Where a surface hangs at a port the step goes on between means of both its sides.
"""

from __future__ import annotations

import numpy as np

from plumbing.frozen import frozen
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.simulation import hanging
from plumbing.simulation.moment import Balance, Balancing, FlameOut, Moment, Stretches
from plumbing.simulation.tankage import Tankage

_NEAR = 1e-9  # share of capacity within which a volume counts as being at a mark
_ROUNDING = 1e-12  # share of capacity
_NOTHING = 1e-9  # share of the largest flow up to which the network is solved
_STILL = 1e-30  # [m3/s] a slower flow reaches no mark in any flight
_SHY = 0.999  # the second look is taken just before the end, where a mark has not been passed yet
_VAGUE = 0.1  # [s] by which the moment may be uncertain at which a demand begins to starve
_LATE = 0.02  # [s] by which a step may go on after a demand has been without fuel too long
_SHORTEST = 1e-4  # [s] a step is not cut below this
_WORTH = 5.0  # times a step must become longer for two more looks at the network
_AGAIN = 1.5  # times that a step is tried with again which was too short to be worth it
_SHORTER, _LONGER = 0.2, 5.0  # times the last step, at most, that the next is tried with


@frozen(eq=False)
class Course:
    """What stays the same from step to step.

    Attributes
    ----------
    tanks, stretches, balance, tolerance, flame_out, hangs_for
        As for `march`.
    marks : Array
        Volumes at which something changes, shape (D, C, M), padded with infinity [m3].
    """

    tanks: Tankage
    stretches: Stretches
    marks: Array
    balance: Balancing
    tolerance: float
    flame_out: FlameOut
    hangs_for: float

    @property
    def rooms(self) -> Array:
        """Capacity of the tank of each pocket [m3], shape (C,)."""
        return self.tanks.capacity[self.tanks.tank]


@frozen(eq=False)
class Trial:
    """Steps to try next, shape (S,) each [s]: plain ones, and those while a surface hangs."""

    plain: Array
    hung: Array

    @classmethod
    def of(cls, scenarios: int) -> Trial:
        """As long as they can be."""
        return cls(np.full(scenarios, np.inf), np.full(scenarios, np.inf))

    def copy(self) -> Trial:
        """To be changed."""
        return Trial(self.plain.copy(), self.hung.copy())


@frozen(eq=False)
class _Step:
    """Steps of all rows: how long, shape (R,) [s], and the balances at both ends."""

    length: Array
    now: Balance
    then: Balance

    def rows(self, which: Flags | Indices) -> _Step:
        return _Step(self.length[which], self.now.rows(which), self.then.rows(which))

    def put(self, which: Indices, other: _Step) -> _Step:
        length = self.length.copy()
        length[which] = other.length
        return _Step(length, self.now.put(which, other.now), self.then.put(which, other.then))

    def error(self, grain: Array) -> Array:
        """Heun against Euler, as share of the grains (C,), the largest in each row, (R,)."""
        apart = 0.5 * self.length[:, None] * np.abs(self.then.rate - self.now.rate)
        return np.asarray(np.max(apart / grain, axis=1, initial=0.0))

    def vague(self) -> Array:
        """How little is known of when a demand got less than before, shape (R,) [s]."""
        starves = self.then.drawn < self.now.drawn
        less = np.where(starves, self.now.share - self.then.share, 0.0)
        return np.asarray(self.length * np.max(less, axis=1, initial=0.0))


def step(course: Course, state: Moment, rows: Indices, trial: Trial) -> tuple[Moment, Trial]:
    """Step every row; one whose error is too large stays and tries a shorter step."""
    stretch, before, gas = state.stretch[rows], state.lying[rows], state.gas[rows]
    trial = trial.copy()
    draws = course.flame_out.running(state.dry[rows])
    now = course.balance(rows, stretch, before, gas, draws)
    left = _left(course, state, rows)
    length = np.minimum(_ahead(course, state, rows, now), trial.plain[rows])
    length = np.where(left <= _SHORTEST, left, np.maximum(length, np.minimum(_SHORTEST, left)))
    guess = _settled(course, rows, stretch, before + _SHY * length[:, None] * now.rate)
    gas = _gas_after(gas, _SHY * length, now)
    plain = _Step(length, now, course.balance(rows, stretch, guess, gas, draws))
    made, hung = _hanging(course, state, rows, trial, plain, guess)
    error = made.error(course.tanks.grain)
    late = _late(course, state, rows, made)
    vague = made.vague()
    taken = (error <= course.tolerance) & (late <= _LATE) & (vague <= _VAGUE)
    taken |= made.length <= _SHORTEST
    length = _within(made, course.tanks, before)
    wanted = length * np.minimum(_factor(course, error), np.where(vague > _VAGUE, 0.5, np.inf))
    wanted = np.where(taken, wanted, np.minimum(wanted, length - late))
    wanted = np.where(taken & (length >= left), np.inf, wanted)
    trial.hung[rows[hung]] = wanted[hung]
    trial.plain[rows[~hung]] = wanted[~hung]
    met = made.now.met & made.then.met
    made = _Step(np.where(taken & met, length, 0.0), made.now, made.then)
    return _moved(course, state, rows, made), trial


def _hanging(
    course: Course, state: Moment, rows: Indices, trial: Trial, plain: _Step, guess: Array
) -> tuple[_Step, Flags]:
    """Where a surface hangs, a longer step between means, and where that is, (R,).

    `guess` has shape (R, C) [m3], the volumes at the end of the plain steps; `trial` is shortened
    where a longer step leaves the place at which it hangs.
    """
    grain, before = course.tanks.grain, state.lying[rows]
    hung = np.zeros(len(rows), dtype=bool)
    tank = hanging.hung_tank(before, guess, plain.now, plain.then, course.tolerance * grain)
    which = np.flatnonzero(tank >= 0)
    if not which.size:
        return plain, hung
    now = hanging.at_rest(plain.now.rows(which), plain.then.rows(which), tank[which])
    length = np.minimum(_ahead(course, state, rows[which], now), trial.hung[rows[which]])
    length = np.minimum(length, course.hangs_for)
    worth = length > _WORTH * plain.length[which]
    again = rows[which[~worth]]
    trial.hung[again] = np.minimum(_AGAIN * trial.hung[again], course.hangs_for)
    if not worth.any():
        return plain, hung
    which, length, now = which[worth], length[worth], now.rows(worth)
    some, at, each = rows[which], tank[which], np.arange(worth.sum())
    here = before[which] + _SHY * length[:, None] * now.rate
    here = _settled(course, some, state.stretch[some], here)
    here[each, at] = before[which, at]
    there = here.copy()
    there[each, at] = guess[which, at]
    gas = _gas_after(state.gas[some], _SHY * length, now)
    draws = course.flame_out.running(state.dry[some])
    one = course.balance(some, state.stretch[some], here, gas, draws)
    other = course.balance(some, state.stretch[some], there, gas, draws)
    then = hanging.at_rest(one, other, at)
    part = np.minimum(1.0, _factor(course, _Step(length, now, then).error(grain)))
    made = _Step(part * length, now, then.mean(now, part))
    hangs = hanging.hangs_on(one, other, plain.now.rows(which), at)
    trial.hung[some[~hangs]] = _SHORTER * length[~hangs]
    hung[which[hangs]] = True
    return plain.put(which[hangs], made.rows(hangs)), hung


def _gas_after(gas: Array, length: Array, now: Balance) -> Array:
    """Gas (R, T) [m3 at ambient] after steps (R,) [s] at the rates of now."""
    return np.asarray(np.maximum(gas + length[:, None] * now.gas, 0.0))


def _left(course: Course, state: Moment, rows: Indices) -> Array:
    """Time to the end of the stretch, shape (R,) [s]."""
    return np.asarray(_ends(course.stretches)[state.stretch[rows]] - state.time[rows])


def _ahead(course: Course, state: Moment, rows: Indices, now: Balance) -> Array:
    """Time until something changes at the rates of now, shape (R,) [s], 0 or more."""
    index, lying = course.stretches.direction(rows, state.stretch[rows]), state.lying[rows]
    rate = course.tanks.shared(now.rate, lying, index)
    ahead = _to_next_mark(course.marks[index], lying, rate, course.rooms)
    ahead = np.minimum(ahead, _to_patience(course, state, rows, now))
    return np.maximum(np.minimum(_left(course, state, rows), ahead), 0.0)


def _factor(course: Course, error: Array) -> Array:
    """Times its length by which a step with this error [-] may go on, shape (R,) [-]."""
    factor = 0.9 * np.sqrt(course.tolerance / np.maximum(error, 1e-300))
    return np.clip(factor, _SHORTER, _LONGER)


def _ends(stretches: Stretches) -> Array:
    return np.cumsum(stretches.duration)


def _to_next_mark(marks: Array, volume: Array, rate: Array, capacity: Array) -> Array:
    """Time until the first pocket reaches a mark at its present rate, shape (R,) [s]."""
    way = marks - volume[:, :, None]
    speed = rate[:, :, None]
    near = np.where(np.isfinite(way), way, 0.0)
    onwards = (near * np.sign(speed) > _NEAR * capacity[:, None]) & (np.abs(speed) > _STILL)
    time = np.where(onwards, way / np.where(onwards, speed, 1.0), np.inf)
    return np.asarray(time.min(axis=(1, 2), initial=np.inf))


def _to_patience(course: Course, state: Moment, rows: Indices, now: Balance) -> Array:
    """Time until the first demand has been without fuel too long, shape (R,) [s]."""
    patience, dry = course.flame_out.patience, state.dry[rows]
    waiting = (now.share < course.flame_out.least(rows)) & (dry < patience)
    return np.asarray(np.where(waiting, patience - dry, np.inf).min(axis=1, initial=np.inf))


def _late(course: Course, state: Moment, rows: Indices, made: _Step) -> Array:
    """By how much steps go on after a demand was without fuel too long, shape (R,) [s]."""
    patience, dry, least = course.flame_out.patience, state.dry[rows], course.flame_out.least(rows)
    now, then = made.now.share, made.then.share
    lasting = dry + made.length[:, None] * _dry_part(now, then, least)
    over = np.where((then < least) & (dry < patience), lasting - patience, 0.0)
    return np.asarray(over.max(axis=1, initial=0.0))


def _settled(course: Course, rows: Indices, stretch: Indices, lying: Array) -> Array:
    """Fuel (R, C) [m3] held within what there is room for, after all spilling."""
    if course.tanks.has_pockets:
        lying = course.tanks.settled(lying, course.stretches.direction(rows, stretch))
    return np.clip(lying, 0.0, course.rooms)


def _within(made: _Step, tanks: Tankage, lying: Array) -> Array:
    """Steps [s] cut so that no tank passes empty or full at the mean rates."""
    length, capacity = made.length, tanks.capacity
    volume, gain = (tanks.total(one) for one in (lying, 0.5 * (made.now.rate + made.then.rate)))
    after = volume + length[:, None] * gain
    room = np.where(gain < 0.0, volume, capacity - volume)
    passed = (after < -_ROUNDING * capacity) | (after > (1.0 + _ROUNDING) * capacity)
    passed &= np.abs(gain) > _NOTHING * np.abs(gain).max(axis=1, keepdims=True, initial=0.0)
    time = np.where(passed, np.maximum(room, 0.0) / np.where(passed, np.abs(gain), 1.0), np.inf)
    return np.asarray(np.minimum(length, time.min(axis=1, initial=np.inf)))


def _moved(course: Course, state: Moment, rows: Indices, made: _Step) -> Moment:
    """State after steps at the mean of both balances."""
    length, now, then = made.length, made.now, made.then
    by = length[:, None]
    lying, burnt, spilt = state.lying.copy(), state.burnt.copy(), state.spilt.copy()
    gas = state.gas.copy()
    gas[rows] = np.maximum(gas[rows] + 0.5 * by * (now.gas + then.gas), 0.0)
    before = state.stretch[rows]
    lying[rows] += 0.5 * by * (now.rate + then.rate)
    burnt[rows] += 0.5 * by * (now.burnt + then.burnt)
    spilt[rows] += 0.5 * by * (now.spilt + then.spilt)
    time, stretch = state.time.copy(), state.stretch.copy()
    time[rows] += length
    stretch[rows] += time[rows] >= _ends(course.stretches)[stretch[rows]] - _SHORTEST
    lying[rows] = _lies(course, rows, before, stretch[rows], lying[rows])
    dry = state.dry.copy()
    least = course.flame_out.least(rows)
    lasting = dry[rows] + by * _dry_part(now.share, then.share, least)
    again = (by > 0.0) & (then.share >= least) & course.flame_out.running(dry[rows])
    dry[rows] = np.where(again, 0.0, lasting)
    went = (length > 0.0) | ~(now.met & then.met)
    began, ended = (
        kept.put(rows[went], new.rows(went))
        for kept, new in ((state.began, now), (state.ended, then))
    )
    volume = course.tanks.total(lying)
    return Moment(time, stretch, lying, volume, gas, burnt, spilt, dry, began, ended)


def _lies(course: Course, rows: Indices, before: Indices, after: Indices, lying: Array) -> Array:
    """Fuel (R, C) [m3] after spilling in one stretch and turning to the next, (R,) each."""
    if not course.tanks.has_pockets:
        return lying
    stretches = course.stretches
    index = stretches.direction(rows, before)
    settled = course.tanks.settled(lying, index)
    onwards = np.minimum(after, len(stretches.duration) - 1)
    return course.tanks.turned(settled, index, stretches.direction(rows, onwards))


def _dry_part(now: Array, then: Array, least: Array) -> Array:
    """Part of a step spent without fuel, if it ends so; shares at both its ends and least [-]."""
    falls = (now >= least) & (then < least)
    part: Array = np.where(falls, (least - then) / np.where(falls, now - then, 1.0), 1.0)
    return part
