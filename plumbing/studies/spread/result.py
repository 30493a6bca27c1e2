"""What a study of the tolerances gives back. Plain values in SI."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from plumbing.frozen import frozen
from plumbing.physics.arrays import Array, Indices


@frozen(eq=False)
class Outcome:
    """One number that the tolerances move, in every sample.

    Attributes
    ----------
    what : str
        In words.
    part : str
        Pump, tank, header or engine it belongs to; empty for the whole aircraft.
    kind : str
        Kind of quantity, a key of `plumbing.units.KINDS`.
    values : Array
        Shape (M,), of the samples in which it was computed.
    rows : Indices
        Those samples among all N, shape (M,).
    check : str
        Check that compares it with a limit, or empty.
    limit : float
        That limit; not read without a check.
    below : bool
        Whether the finding is made below the limit instead of above it.
    listed : bool
        Whether its percentiles tell anything.
    """

    what: str
    part: str
    kind: str
    values: Array
    rows: Indices
    check: str = ""
    limit: float = 0.0
    below: bool = False
    listed: bool = True

    @property
    def found(self) -> Array:
        """1 in samples in which the finding is made, else 0, shape (M,)."""
        over = self.values < self.limit if self.below else self.values > self.limit
        return np.asarray(over, float)


@frozen
class Chance:
    """How likely a finding is.

    Attributes
    ----------
    check, part : str
        The finding.
    chance : float
        Share of the samples in which it is made [-].
    error : float
        Its standard error [-].
    """

    check: str
    part: str
    chance: float
    error: float


@frozen
class Share:
    """Share of the variance that a cause makes.

    Attributes
    ----------
    alone : float
        By itself: first-order index [-].
    whole : float
        Together with what it does in company of others: total index [-].
    """

    alone: float
    whole: float


@frozen
class Spread:
    """How far a number spreads.

    Attributes
    ----------
    what, part, kind : str
        The number.
    low, middle, high : float
        The 5th, 50th and 95th percentiles [SI].
    error : float
        Standard error of the middle [SI].
    drivers : mapping of str to float
        Share of the spread that each tolerance makes, greatest first [-].
    explained : float
        Part of the ranks' variance that the drivers explain, 0 to 1.
    shares : mapping of str to Share
        Sobol indices, greatest total first; empty where they were not asked for.
    """

    what: str
    part: str
    kind: str
    low: float
    middle: float
    high: float
    error: float
    drivers: Mapping[str, float]
    explained: float
    shares: Mapping[str, Share]


@frozen
class Spreading:
    """Everything the tolerances make of a layout.

    Attributes
    ----------
    samples, seed : int
        What was drawn.
    flight : str
        Flight that was flown; empty where none could be.
    chances : tuple of Chance
        Findings, likeliest first.
    spreads : tuple of Spread
        Numbers.
    error : float
        Largest standard error of a chance [-].
    target : float
        What that was to be at most [-].
    unsolved : mapping of str to str
        What could not be computed, and why.
    partial : bool
        Whether somebody stopped it before all was computed.
    """

    samples: int
    seed: int
    flight: str
    chances: tuple[Chance, ...]
    spreads: tuple[Spread, ...]
    error: float
    target: float
    unsolved: Mapping[str, str]
    partial: bool

    @property
    def converged(self) -> bool:
        """Whether no chance has a greater error than asked."""
        return self.error <= self.target
