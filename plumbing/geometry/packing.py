"""The smallest round hole through which several tubes pass side by side."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from plumbing.physics.arrays import Array

MOST = 12  # tubes in one hole that are packed
STARTS = 24  # arrangements tried; enough for the known optima up to 7 equal circles


def smallest_hole(diameters: Sequence[float]) -> tuple[float, Array]:
    """Smallest circle that holds circles of given diameters without overlap.

    Parameters
    ----------
    diameters : sequence of float
        Outer diameters of the tubes [m], 1 to 12 of them, all positive.

    Returns
    -------
    tuple of (float, Array)
        Diameter of the hole [m] and centres of the tubes about its centre [m], shape (n, 2).
        The arrangement always fits; beyond two tubes that none smaller exists is not proved,
        only the best of many starts.

    References
    ----------
    Optimal ratios for equal circles are known: R.L. Graham et al., Dense packings of congruent
    circles in a circle, Discrete Mathematics 181 (1998).
    """
    radii = 0.5 * np.asarray(diameters, float)
    if not 1 <= len(radii) <= MOST or not np.all(np.isfinite(radii)) or radii.min() <= 0.0:
        raise ValueError(f"from 1 to {MOST} tubes of positive diameter are packed")
    if len(radii) == 1:
        return float(2.0 * radii[0]), np.zeros((1, 2))
    if len(radii) == 2:
        across = np.array([[-radii[1], 0.0], [radii[0], 0.0]])
        return float(2.0 * radii.sum()), across
    unit = radii / radii.max()
    best, centres = np.inf, np.zeros((len(unit), 2))
    for start in _starts(unit):
        size, found = _settled(unit, start)
        if size < best - 1e-9:
            best, centres = size, found
    return float(2.0 * best * radii.max()), centres * radii.max()


def _starts(radii: Array) -> list[Array]:
    """Arrangements to begin from: rings with or without one in the middle, then random ones."""
    count, random = len(radii), np.random.default_rng(20250611)
    starts = []
    for middle in (0, 1):
        angle = 2.0 * np.pi * np.arange(count - middle) / (count - middle)
        ring = np.stack([np.cos(angle), np.sin(angle)], axis=1) * radii.sum() / 2.0
        starts.append(np.concatenate([np.zeros((middle, 2)), ring]))
    starts += [random.normal(scale=np.sqrt(count), size=(count, 2)) for _ in range(STARTS - 2)]
    return starts


def _settled(radii: Array, start: Array) -> tuple[float, Array]:
    """Local optimum from a start: smallest radius and centres, made to fit exactly."""
    from scipy.optimize import minimize  # heavy, and only needed when holes are packed

    count = len(radii)
    one, two = np.triu_indices(count, 1)
    apart = radii[one] + radii[two]
    pairs = np.arange(len(one))

    def margins(x: NDArray[np.float64]) -> Array:
        centres, size = x[:-1].reshape(-1, 2), x[-1]
        gaps: Array = centres[one] - centres[two]
        walls = (size - radii) ** 2 - (centres**2).sum(axis=1)
        return np.concatenate([walls, (gaps**2).sum(axis=1) - apart**2, size - radii])

    def slopes(x: NDArray[np.float64]) -> Array:
        centres, size = x[:-1].reshape(-1, 2), x[-1]
        gaps = 2.0 * (centres[one] - centres[two])
        rows = np.zeros((2 * count + len(one), 2 * count + 1))
        tube = np.arange(count)
        for k in range(2):
            rows[tube, 2 * tube + k] = -2.0 * centres[:, k]
            rows[count + pairs, 2 * one + k] = gaps[:, k]
            rows[count + pairs, 2 * two + k] = -gaps[:, k]
        rows[:count, -1] = 2.0 * (size - radii)
        rows[count + len(one) :, -1] = 1.0
        return rows

    first = np.append(start.ravel(), np.linalg.norm(start, axis=1).max() + 1.0)
    target = np.append(np.zeros(2 * count), 1.0)
    found = minimize(
        lambda x: x[-1],
        first,
        jac=lambda _: target,
        method="SLSQP",
        constraints={"type": "ineq", "fun": margins, "jac": slopes},
        options={"maxiter": 200, "ftol": 1e-10},
    )
    centres = found.x[:-1].reshape(-1, 2)
    gap = np.linalg.norm(centres[one] - centres[two], axis=1)
    if gap.min() < 1e-6:
        return np.inf, centres
    centres = centres * max(1.0, float((apart / gap).max()))
    return float((np.linalg.norm(centres, axis=1) + radii).max()), centres
