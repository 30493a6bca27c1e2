"""Shares of the variance by Sobol's indices: what rises and falls, humps and partners included.

Every cause is exchanged on its own between two independent sets of samples; the library
makes the indices from what that changes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from plumbing.physics.arrays import Array
from plumbing.studies.spread.computing import Computing
from plumbing.studies.spread.draws import causes_of, drawn
from plumbing.studies.spread.result import Outcome, Share

COST = 4.5  # evaluations, at half as many samples as the spread has: (7 to 9 causes + 2) / 2
_STILL = 1e-9  # relative spread below which nothing drives anything
_LEAST = 0.005  # total shares below this are not named


def sobol_shares(
    computing: Computing,
    outcomes: Sequence[Outcome],
    samples: int,
    seed: int,
    whole: float,
    before: int,
) -> list[Mapping[str, Share]]:
    """Shares of each cause in the variance of each outcome, greatest first.

    Parameters
    ----------
    computing : Computing
        What computes samples.
    outcomes : sequence of Outcome
        Those of the spread; what the exchanged samples could not give has no shares.
    samples : int
        Samples N of each of the two sets, a power of two.
    seed : int
        The same seed gives the same answer.
    whole : float
        How many samples there are to compute in all.
    before : int
        How many of them are computed.
    """
    layout = computing.set_up.layout
    columns = causes_of(layout)
    causes = tuple(dict.fromkeys(columns))
    own, other = two_sets(len(columns), samples, seed)
    sets = [own, other]
    for cause in causes:
        exchanged = np.array([column == cause for column in columns])
        sets.append(np.where(exchanged, other, own))
    fresh = computing.anew()
    fresh.go_on(drawn(layout, np.concatenate(sets)), whole, before)
    values = {(one.what, one.part): one.values for one in fresh.outcomes()}
    for part in fresh.unsolved.keys() - computing.unsolved.keys():
        computing.unsolved[f"Sobol indices of {part}"] = "they need every exchanged sample"
    whole_ones = {key for key, each in values.items() if len(each) == len(sets) * samples}
    return [
        _shares(causes, values[one.what, one.part].reshape(len(sets), samples))
        if (one.what, one.part) in whole_ones
        else {}
        for one in outcomes
    ]


def two_sets(columns: int, samples: int, seed: int) -> tuple[Array, Array]:
    """Two sets of samples that know nothing of each other, each of shape (N, C)."""
    from scipy.stats import qmc

    both = qmc.Sobol(2 * columns, rng=np.random.default_rng([seed, columns])).random(samples)
    return both[:, :columns], both[:, columns:]


def _shares(causes: Sequence[str], values: Array) -> dict[str, Share]:
    if np.ptp(values[:2]) <= _STILL * max(float(np.abs(values).max()), 1e-12):
        return {}
    found = zip(causes, *indices(values), strict=True)
    named = {cause: Share(alone, whole) for cause, alone, whole in found if whole > _LEAST}
    return dict(sorted(named.items(), key=lambda pair: -pair[1].whole))


def indices(values: Array) -> tuple[list[float], list[float]]:
    """First-order and total indices [-].

    Parameters
    ----------
    values : Array
        Of the one set, of the other, and of the one with each of K causes exchanged,
        shape (2 + K, N).

    References
    ----------
    Saltelli et al., Computer Physics Communications 181 (2010) 259-270: the estimators that the
    library says it has.
    """
    from scipy.stats import sobol_indices

    found = sobol_indices(
        func={"f_A": values[0][None], "f_B": values[1][None], "f_AB": values[2:, None]},
        n=values.shape[1],
    )
    return (
        [float(one) for one in np.atleast_2d(found.first_order)[0]],
        [float(one) for one in np.atleast_2d(found.total_order)[0]],
    )
