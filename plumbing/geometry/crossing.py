"""Whether a mesh crosses itself: edges of one triangle that pierce another."""

import numpy as np

from plumbing.geometry.mesh import Mesh
from plumbing.physics.arrays import Array, Flags, Indices

PAIRS = 4_000_000  # overlapping boxes looked at, at most; more means faces heaped on each other
BATCH = 200_000


def self_crossing(mesh: Mesh) -> Array | None:
    """Place where two triangles without a common corner meet.

    Only pairs whose bounding boxes overlap are tested. Triangles lying in one plane are not
    seen as crossing.

    Parameters
    ----------
    mesh : Mesh
        The surface.

    Returns
    -------
    Array or None
        Middle between two triangles that meet [m], shape (1, 3), or (0, 3) where none do; None if
        so many boxes overlap that the search was given up.
    """
    corners = mesh.vertices[mesh.faces]
    pairs = _overlapping(corners.min(axis=1), corners.max(axis=1))
    if pairs is None:
        return None
    first, second = pairs
    shared = (mesh.faces[first][:, :, None] == mesh.faces[second][:, None, :]).any(axis=(1, 2))
    first, second = first[~shared], second[~shared]
    for start in range(0, len(first), BATCH):
        part = slice(start, start + BATCH)
        one, other = corners[first[part]], corners[second[part]]
        met = np.flatnonzero(_pierced(one, other) | _pierced(other, one))[:1]
        if met.size:
            return np.asarray(0.5 * (one[met] + other[met]).mean(axis=1))
    return np.zeros((0, 3))


def _overlapping(low: Array, high: Array) -> tuple[Indices, Indices] | None:
    """Pairs of boxes that overlap, found by sweeping along the axis that separates best.

    Parameters
    ----------
    low, high : Array
        Corners of the boxes [m], shape (F, 3).
    """
    spread = (high - low).mean(axis=0) / np.maximum(high.max(axis=0) - low.min(axis=0), 1e-300)
    axis = int(np.argmin(spread))
    order = np.argsort(low[:, axis])
    low, high = low[order], high[order]
    last = np.searchsorted(low[:, axis], high[:, axis], side="right")
    count = np.maximum(last - np.arange(len(low)) - 1, 0)
    firsts, seconds, found = [], [], 0
    ends = np.cumsum(count)
    if len(ends) and ends[-1] > 100 * PAIRS:
        return None
    for rows in np.split(np.arange(len(low)), np.flatnonzero(np.diff(ends // PAIRS)) + 1):
        first = np.repeat(rows, count[rows])
        begin = np.repeat(np.cumsum(count[rows]) - count[rows], count[rows])
        second = first + 1 + np.arange(len(first)) - begin
        meet = (low[first] <= high[second]).all(axis=1) & (low[second] <= high[first]).all(axis=1)
        firsts.append(order[first[meet]])
        seconds.append(order[second[meet]])
        found += int(np.count_nonzero(meet))
        if found > PAIRS:
            return None
    return np.concatenate(firsts), np.concatenate(seconds)


def _pierced(one: Array, other: Array) -> Flags:
    """Whether an edge of triangle `other` passes through triangle `one`, shape (P,).

    Parameters
    ----------
    one, other : Array
        Corners [m], shape (P, 3, 3).
    """
    sides = one[:, [1, 2, 0]] - one
    normal = np.cross(sides[:, 0], -sides[:, 2])
    reach = np.einsum("pki,pi->pk", other - one[:, :1], normal)
    size = np.abs(sides).max(axis=(1, 2))
    least = 1e-12 * np.linalg.norm(normal, axis=1) * size
    hit = np.zeros(len(one), dtype=bool)
    for a, b in ((0, 1), (1, 2), (2, 0)):
        apart = (reach[:, a] * reach[:, b] < 0.0) & (
            np.minimum(np.abs(reach[:, a]), np.abs(reach[:, b])) > least
        )
        gap = np.where(apart, reach[:, a] - reach[:, b], 1.0)
        share = reach[:, a] / gap
        point = other[:, a] + share[:, None] * (other[:, b] - other[:, a])
        turns = np.einsum("pki,pi->pk", np.cross(sides, point[:, None] - one), normal)
        margin = (-1e-9 * np.einsum("pi,pi->p", normal, normal))[:, None]
        hit |= apart & (turns > margin).all(axis=1)
    return hit
