"""A solid as liquid fills it from below: gas that finds no way out stays in high pockets.

What is a basin for liquid is a high pocket for gas with gravity turned round. As the surface
rises, gas leaves by the openings; a pocket without one is closed when the surface reaches its lip,
and the surface passes it by.
"""

from collections.abc import Sequence

import numpy as np

from plumbing.geometry.cut import Cut
from plumbing.geometry.pockets import Pockets
from plumbing.physics.arrays import Array, Indices

MOST_LEVELS = 400  # heights in a table; a finer mesh is read at so many of its corners
_BATCH = 2_000_000  # pairs of level and face worked on at a time
_NOTHING = 1e-6  # share of the solid that is no trapped gas worth a table
_THIRDS = np.array([0.0, 1.0 / 3.0, 2.0 / 3.0, 1.0])
_CUBIC = np.linalg.inv(_THIRDS[:, None] ** np.arange(4) / np.array([1.0, 1.0, 2.0, 6.0]))


def rising(gas: Pockets, openings: Sequence[Array], above: float = 0.0) -> Cut | None:
    """Table of liquid against level where gas leaves by some openings only.

    Parameters
    ----------
    gas : Pockets
        Pockets of the solid under D directions turned round.
    openings : sequence of Array
        Place of each opening in every direction, shape (D, 3) [m].
    above : float
        As for `Basins.basin_at` [m].

    Returns
    -------
    Cut or None
        Its capacity is what the last direction holds in the end. None where no gas is trapped.
    """
    mesh, down = gas.tree.mesh, -gas.tree.down
    every = np.arange(len(down))
    basins = [gas.tree.basin_at(points, every, above) for points in openings]
    corners = np.sort(-(down @ mesh.vertices.T), axis=1)
    some = np.linspace(0, corners.shape[1] - 1, min(corners.shape[1], MOST_LEVELS)).astype(int)
    heights = corners[:, some]
    width = np.diff(heights, axis=1)
    level = heights[:, :-1, None] + width[:, :, None] * _THIRDS
    held = mesh.volume - _left(gas, basins, level)
    if mesh.volume - held[:, -1, -1].min() <= _NOTHING * mesh.volume:
        return None
    series = held @ _CUBIC.T
    step = np.where(width > 0.0, width, np.inf)
    pieces = np.stack([series[..., n] / step**n for n in range(4)])
    pieces = np.where((width > 0.0) | (np.arange(4) == 0)[:, None, None], pieces, 0.0)
    last = np.zeros((4, len(down), 1))
    last[0, :, 0] = held[:, -1, -1]
    volumes = np.concatenate([pieces, last], axis=2)
    np.maximum.accumulate(np.maximum(volumes[0], 0.0), axis=1, out=volumes[0])
    tip = mesh.vertices[np.argmax(down @ mesh.vertices.T, axis=1)]
    return Cut(down, heights, volumes, None, mesh.middle, float(held[-1, -1, -1]), tip)


def kept_gas(fuel: Pockets, gas: Pockets, openings: Sequence[Array], above: float) -> Array:
    """Gas that stays where fuel itself lies in several pockets, by nodes of the fuel, (D, N) [m3].

    It is counted where it lies: in the piece of the solid that its high pocket is part of.

    Parameters
    ----------
    fuel, gas : Pockets
        Pockets of the solid under D directions, and turned round.
    openings : sequence of Array
        Place of each opening in every direction, shape (D, 3) [m].
    above : float
        As for `Basins.basin_at` [m].
    """
    every, tree = np.arange(len(fuel.tree.down)), fuel.tree
    tops = gas.tree.low.min(axis=1)
    ways = [
        gas.drawn_down(tops, gas.tree.basin_at(points, every, above), every) for points in openings
    ]
    each = np.min(ways, axis=0)
    basin = np.take_along_axis(tree.of, gas.tree.lowest, axis=1)
    high = np.where(np.isfinite(tree.low), tree.high, -np.inf)
    ends = high >= high.max(axis=1, keepdims=True)
    kept = np.zeros_like(fuel.holds)
    for pocket in range(gas.tree.most):
        within = ends & tree.inside[every, :, basin[:, pocket]]
        kept += np.where(within, each[:, pocket, None], 0.0)
    return kept


def _left(gas: Pockets, basins: Sequence[Indices], level: Array) -> Array:
    """Gas left in the solid with the surface at levels (D, ...) [m], same shape [m3]."""
    rows = np.broadcast_to(np.arange(len(level))[:, None, None], level.shape).ravel()
    heights, result = -level.ravel(), np.empty(level.size)
    some = max(1, _BATCH // len(gas.tree.mesh.faces))
    for first in range(0, len(rows), some):
        part = slice(first, first + some)
        row = rows[part]
        ways = [gas.drawn_down(heights[part], basin[row], row) for basin in basins]
        result[part] = np.min(ways, axis=0).sum(axis=1)
    return result.reshape(level.shape)
