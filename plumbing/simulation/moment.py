"""What there is to know of all scenarios at one moment of a run."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from plumbing.physics.arrays import Array, Flags, Indices

HALF = 0.5  # a demand that receives less liquid than this is without fuel


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

    def rows(self, which: Flags | Indices) -> Balance:
        """The same for some scenarios."""
        return Balance(self.rate[which], self.burnt[which], self.share[which], self.spilt[which])

    def put(self, which: Indices, other: Balance) -> Balance:
        """The same with some scenarios from another."""
        rate, burnt, share, spilt = (
            array.copy() for array in (self.rate, self.burnt, self.share, self.spilt)
        )
        rate[which], burnt[which] = other.rate, other.burnt
        share[which], spilt[which] = other.share, other.spilt
        return Balance(rate, burnt, share, spilt)


def between(one: Balance, other: Balance, part: Array) -> Balance:
    """`one` for a part of the time, shape (S,) [-], and the other for the rest of it."""
    by = part[:, None]
    return Balance(
        by * one.rate + (1.0 - by) * other.rate,
        by * one.burnt + (1.0 - by) * other.burnt,
        by * one.share + (1.0 - by) * other.share,
        part * one.spilt + (1.0 - part) * other.spilt,
    )


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
