"""Run peak flow and the flight over the tolerances, and sum up what they make of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import numpy as np

from plumbing.errors import SolveError, Stopped, UsageError
from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array, Indices
from plumbing.results import STOPPED
from plumbing.studies.spread.computing import Computing
from plumbing.studies.spread.draws import REPLICATES, Draws, draw
from plumbing.studies.spread.drivers import drivers
from plumbing.studies.spread.result import Chance, Outcome, Share, Spread, Spreading
from plumbing.studies.spread.sobol import COST, sobol_shares
from plumbing.studies.spread.steady import bench

FEWEST, MOST = 64, 16_384
LEAST_ERROR = 0.004  # standard error of a chance that MOST samples always reach
USUAL_ERROR = 0.025  # what 512 samples always reach


@frozen
class Wanted:
    """What is asked of a spread.

    Attributes
    ----------
    samples : int
        At least so many, 64 to 16 384; taken up to eight times a power of two.
    seed : int
        The same seed gives the same answer.
    error : float or None
        Standard error of every chance [-], 0.004 or more; samples are doubled until it is reached.
    sobol : bool
        Whether Sobol indices are computed as well, which takes about six times as long.

    Raises
    ------
    UsageError
        The number of samples or the error is outside its bounds.
    """

    samples: int = 512
    seed: int = 1
    error: float | None = None
    sobol: bool = False

    def __post_init__(self) -> None:
        if not FEWEST <= self.samples <= MOST:
            raise UsageError(f"{self.samples} samples; expected {FEWEST} to {MOST}")
        if self.error is not None and not LEAST_ERROR <= self.error < 1.0:
            least = f"{100.0 * LEAST_ERROR:g}"
            raise UsageError(f"error {100.0 * self.error:g} %; expected {least} % to below 100 %")


def spread(
    layout: Layout,
    survey: Survey,
    limits: Mapping[str, float],
    wanted: Wanted,
) -> Spreading:
    """Draw samples of what is uncertain and compute each.

    Parameters
    ----------
    layout, survey
        The layout.
    limits : mapping of str to float
        Limit of each check [SI].
    wanted : Wanted
        How many samples, how well.

    Returns
    -------
    Spreading
        Chances of findings, spreads of numbers, and what drives them.

    Raises
    ------
    SolveError
        Nothing draws fuel from a tank.
    """
    count = REPLICATES << int(np.ceil(np.log2(wanted.samples / REPLICATES)))
    target = USUAL_ERROR if wanted.error is None else wanted.error
    set_up = bench(layout, survey)
    if set_up is None:
        raise SolveError("no pump or engine draws fuel from a tank through open lines")
    computing = Computing(set_up, limits)
    cost, needed = 1.0 + (COST if wanted.sobol else 0.0), count if wanted.error is None else MOST
    unsolved, stopped = computing.unsolved, False
    while True:
        draws = draw(layout, count, wanted.seed)
        try:
            computing.go_on(draws, needed * cost)
        except Stopped:
            if not computing.count:
                raise
            unsolved["samples"] = f"{count - computing.count} of {count} {STOPPED}"
            count, stopped = computing.count, True
            draws = draws.rows(np.arange(count))
        outcomes = computing.outcomes()
        chances = _chances(outcomes)
        error = max((chance.error for chance in chances), default=0.0)
        if stopped or wanted.error is None or error <= target or count >= MOST:
            break
        needed = max(2 * count, min(MOST, int(count * (error / target) ** 2)))
        count *= 2
    shares: list[Mapping[str, Share]] = [{} for _ in outcomes]
    if wanted.sobol and not stopped:
        try:
            shares = sobol_shares(computing, outcomes, count // 2, wanted.seed, count * cost, count)
        except Stopped:
            unsolved["Sobol indices"], stopped = STOPPED, True
    return Spreading(
        samples=count,
        seed=wanted.seed,
        flight=computing.flight,
        chances=tuple(sorted(chances, key=lambda chance: -chance.chance)),
        spreads=tuple(
            _spread(one, draws, share)
            for one, share in zip(outcomes, shares, strict=True)
            if one.listed
        ),
        error=error,
        target=target,
        unsolved=unsolved,
        partial=stopped,
    )


def _chances(outcomes: list[Outcome]) -> list[Chance]:
    return [
        Chance(one.check, one.part, float(one.found.mean()), _error(one.found, one.rows, np.mean))
        for one in outcomes
        if one.check
    ]


def _spread(one: Outcome, draws: Draws, shares: Mapping[str, Share]) -> Spread:
    low, middle, high = (float(value) for value in np.percentile(one.values, (5.0, 50.0, 95.0)))
    driven, explained = drivers(draws.causes, draws.unit[one.rows], one.values)
    error = _error(one.values, one.rows, np.median)
    return Spread(one.what, one.part, one.kind, low, middle, high, error, driven, explained, shares)


def _error(values: Array, rows: Indices, of: Callable[..., Array]) -> float:
    """Standard error of a mean or median: never less than plain random sampling would have.

    The scatter among the replicates alone is too hopeful for so few of them.
    """
    count = len(values)
    own = [of(values[rows % REPLICATES == one], axis=0) for one in np.unique(rows % REPLICATES)]
    scatter = float(np.std(own, ddof=1) / np.sqrt(len(own))) if len(own) > 1 else 0.0
    if of is np.mean:
        share = (float(np.sum(values)) + 1.0) / (count + 2.0)  # none found is not never
        return max(scatter, float(np.sqrt(share * (1.0 - share) / count)))
    half = 0.5 / np.sqrt(count)
    below, above = np.quantile(values, (0.5 - half, 0.5 + half))
    return max(scatter, 0.5 * float(above - below))
