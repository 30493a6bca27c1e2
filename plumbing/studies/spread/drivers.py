"""Which tolerance makes a number spread: standardised regression of ranks on ranks."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from plumbing.physics.arrays import Array

_STILL = 1e-9  # relative spread below which nothing drives anything
_SURE = 3.0  # standard errors that a coefficient must exceed to be believed
_LEAST = 0.005  # shares below this are not named


def drivers(causes: Sequence[str], unit: Array, values: Array) -> tuple[dict[str, float], float]:
    """Share of the spread that each cause makes, and how much of it they explain together.

    Parameters
    ----------
    causes : sequence of str
        Cause of each column.
    unit : Array
        Samples, shape (N, C).
    values : Array
        Number in each sample, shape (N,).

    Returns
    -------
    dict of str to float
        Squared standardised rank regression coefficients over their sum, greatest first [-];
        those that chance alone could make are left out.
    float
        R2 of the regression, 0 to 1.

    References
    ----------
    Iman, R. L. and Conover, W. J., The use of the rank transform in regression, Technometrics 21
    (1979): the method; from memory.
    """
    from scipy.stats import rankdata

    if np.ptp(values) <= _STILL * max(float(np.abs(values).max()), 1e-12):
        return {}, 1.0
    x = _standard(rankdata(unit, axis=0))
    y = _standard(rankdata(values)[:, None])[:, 0]
    slope, *_ = np.linalg.lstsq(x, y, rcond=None)
    left = y - x @ slope
    explained = 1.0 - float(left @ left) / float(y @ y)
    spare = max(len(y) - x.shape[1] - 1, 1)
    sure = slope**2 > _SURE**2 * max(1.0 - explained, 0.0) / spare
    part = np.where(sure, slope**2, 0.0)
    shares: dict[str, float] = {}
    for cause, share in zip(causes, part / max(float(part.sum()), 1e-300), strict=True):
        shares[cause] = shares.get(cause, 0.0) + float(share)
    named = {cause: share for cause, share in shares.items() if share > _LEAST}
    return dict(sorted(named.items(), key=lambda pair: -pair[1])), explained


def _standard(ranks: Array) -> Array:
    centred = ranks - ranks.mean(axis=0)
    return np.asarray(centred / np.maximum(centred.std(axis=0), 1e-12))
