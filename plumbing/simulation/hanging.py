"""Surfaces that hang at a port.

A little higher and the port lets liquid out, a little lower and it lets liquid in, or the other
way round: the surface stays between, and the network does both by turns. What comes of it is the
mean of the two in which the tank neither gains nor loses (a sliding mode: Filippov, Differential
Equations with Discontinuous Righthand Sides, 1988, by title only).
"""

import numpy as np

from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.simulation.moment import Balance


def hung_tank(before: Array, after: Array, now: Balance, then: Balance, close: Array) -> Indices:
    """Tank whose surface hangs between two volumes, or -1, shape (R,).

    `before` and `after` have shape (R, T) [m3]; nearer than `close` (T,) they must be.
    """
    hangs = (now.rate * then.rate < 0.0) & (np.abs(after - before) <= close)
    speed = np.where(hangs, np.abs(now.rate), 0.0)
    return np.where(hangs.any(axis=1), speed.argmax(axis=1), -1)


def at_rest(one: Balance, other: Balance, tank: Indices) -> Balance:
    """The mean of two balances in which a tank (R,) neither gains nor loses."""
    first, second = _rate(one, tank), _rate(other, tank)
    apart = np.where(first == second, 1.0, second - first)
    return one.mean(other, np.clip(second / apart, 0.0, 1.0))


def hangs_on(one: Balance, other: Balance, as_was: Balance, tank: Indices) -> Flags:
    """Whether the surface still hangs between two volumes, shape (R,)."""
    first, second = _rate(one, tank), _rate(other, tank)
    result: Flags = (first * second < 0.0) & (first * _rate(as_was, tank) > 0.0)
    return result


def _rate(balance: Balance, tank: Indices) -> Array:
    return np.asarray(balance.rate[np.arange(len(tank)), tank])
