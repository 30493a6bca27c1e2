"""Levels and centres of the fuel in pockets, from tables, and what a slow turn does to it."""

from functools import lru_cache
from itertools import pairwise

import numpy as np

from plumbing.frozen import frozen
from plumbing.geometry.basins import Basins
from plumbing.geometry.cut import Cut, cut
from plumbing.geometry.pockets import Pockets, pockets
from plumbing.geometry.turning import Turn, turn_along
from plumbing.physics.arrays import Array, Indices

STEP = np.radians(3.0)  # a turn is followed in steps of at most this [rad]; 1 deg changes nothing


@frozen(eq=False)
class Pools:
    """Pockets of a solid under D directions, with tables of level against volume.

    A query's direction counts round and round: D and 0 are the same.

    Attributes
    ----------
    pockets : Pockets
        K basins, N nodes of each direction.
    row : Indices
        Row of the tables for each node, shape (D, N).
    tables : Cut
        Volumes and centres of every node from where it begins to its ridge.
    brim : Array
        Height of the surface over a node that is full, shape (D, N) [m].
    """

    pockets: Pockets
    row: Indices
    tables: Cut
    brim: Array

    @property
    def most(self) -> int:
        """Largest number of basins K."""
        return self.pockets.tree.most

    def settled(self, volume: Array, index: Indices) -> Array:
        """Volumes (S, K) [m3] after all that stands over a ridge has run over it."""
        return self.pockets.settled(volume, self._round(index))

    def shared(self, rate: Array, volume: Array, index: Indices) -> Array:
        """How fast each basin fills (S, K) [m3/s] where liquid runs into each at a rate (S, K)."""
        return self.pockets.shared(rate, volume, self._round(index))

    def levels(self, volume: Array, index: Indices) -> Array:
        """Height of the surface over every basin for settled volumes (S, K), shape (S, K) [m]."""
        row, pool, total = self._pooled(volume, index)
        tree, at = self.pockets.tree, self._round(index)[:, None]
        level = self.tables.level_for(total, row)
        return np.asarray(np.clip(level, tree.low[at, pool], self.brim[at, pool]))

    def centroid(self, volume: Array, index: Indices) -> Array:
        """Centre of the fuel for settled volumes (S, K), shape (S, 3) [m]."""
        row, _, _ = self._pooled(volume, index)
        centre = self.tables.centroid_at(self.levels(volume, index), row)
        weight = np.maximum(volume, 0.0)
        some = weight.sum(axis=1) > 0.0
        weight = np.where(some[:, None], weight, np.arange(self.most) == 0)
        return np.asarray(np.einsum("sk,skc->sc", weight, centre) / weight.sum(axis=1)[:, None])

    def poured(self, total: Array, index: Indices) -> Array:
        """Volumes (S, K) [m3] where the same level stands in all pockets, for totals (S,) [m3]."""
        tree, rows = self.pockets.tree, self._round(index)
        count = tree.count[rows]
        whole = np.where(count > 1, tree.most + count - 2, 0)
        level = self.whole.level_for(total, rows)
        result = np.zeros((len(total), tree.most))
        for node in range(self.row.shape[1]):
            high, low = tree.high[rows, node], tree.low[rows, node]
            here = np.isfinite(low) & (level >= low) & ((level < high) | (node == whole))
            ends = np.isfinite(low) & (level >= high) & (node < tree.most)
            part = self.pockets.part[rows, node]
            held = np.where(node == whole, total, self._below(level, self.row[rows, node]))
            result = np.where(here[:, None] & (part > 0.0), held[:, None] * part, result)
            full = self.pockets.holds[rows, node]
            result = np.where(ends[:, None] & (part > 0.0), full[:, None] * part, result)
        short = total - result.sum(axis=1)
        return self.pockets.settled(result * (1.0 + _ratio(short, result))[:, None], rows)

    @property
    def whole(self) -> Cut:
        """The solid as one, cut."""
        return _whole(self)

    def _below(self, level: Array, row: Indices) -> Array:
        return self.tables.volume_at(level, row)

    def turned(self, volume: Array, before: Indices, after: Indices) -> Array:
        """Volumes (S, K) [m3] when a solid with settled volumes is turned slowly.

        It turns the shortest way; half way round it rolls. What was poured keeps its total.
        """
        pairs = np.stack([self._round(before), self._round(after)], axis=1)
        turns = pairs[pairs[:, 0] != pairs[:, 1]]
        if not len(turns):
            return volume
        result = np.array(volume, float)
        for first, last in np.unique(turns, axis=0).tolist():
            which = np.flatnonzero((pairs == (first, last)).all(axis=1))
            result[which] = self._turned(result[which], first, last)
        return result

    def _turned(self, volume: Array, first: int, last: int) -> Array:
        turn = _turn(self, first, last)
        most = turn.pockets.tree.most
        wide = np.zeros((len(volume), max(most, self.most)))
        wide[:, : self.most] = volume
        wide[:, :most] = turn.made(wide[:, :most])
        return wide[:, : self.most]

    def _pooled(self, volume: Array, index: Indices) -> tuple[Indices, Indices, Array]:
        """Row of the tables, pool and its volume [m3] over every basin, shape (S, K) each."""
        rows = self._round(index)
        pool = self.pockets.pools(volume, rows)
        inside = self.pockets.tree.inside[rows[:, None], pool]
        total = np.einsum("skj,sj->sk", inside, volume)
        return self.row[rows[:, None], pool], pool, total

    def _round(self, index: Indices) -> Indices:
        return index % len(self.pockets.tree.down)


def _ratio(short: Array, volume: Array) -> Array:
    total = volume.sum(axis=1)
    return np.where(total > 0.0, short / np.where(total > 0.0, total, 1.0), 0.0)


def pools(found: Pockets, moments: bool = True) -> Pools:
    """Tables of pockets.

    Parameters
    ----------
    found : Pockets
        The pockets.
    moments : bool
        Whether centres will be asked for.
    """
    tree = found.tree
    there = np.isfinite(tree.low)
    direction, node = np.nonzero(there)
    row = np.zeros(there.shape, dtype=np.intp)
    row[there] = np.arange(len(direction))
    within = np.take_along_axis(tree.inside[direction, node], found.face[direction], axis=1)
    tables = cut(tree.mesh, tree.down[direction], moments=moments, within=within)
    return Pools(found, row, tables, np.minimum(tree.high, _crest(tree)))


def _crest(tree: Basins) -> Array:
    """Highest point of what sinks into the basins of each node, shape (D, N) [m]."""
    heights = -(tree.down @ tree.mesh.vertices.T)
    each = np.full(tree.lowest.shape, -np.inf)
    np.maximum.at(each, (np.arange(len(heights))[:, None], tree.of), heights)
    return np.asarray(np.where(tree.inside, each[:, None], -np.inf).max(axis=2))


@lru_cache(maxsize=64)
def _whole(found: Pools) -> Cut:
    tree = found.pockets.tree
    return cut(tree.mesh, tree.down, moments=False)


@lru_cache(maxsize=4096)
def _turn(found: Pools, first: int, last: int) -> Turn:
    """The shortest way from one direction to another; half way round it rolls."""
    tree = found.pockets.tree
    way = _way(tree.down[first], tree.down[last])
    return turn_along(pockets(tree.mesh, way, tree.least, tree.passages))


def _way(start: Array, end: Array) -> Array:
    """Directions in small steps from one to another, shape (P, 3)."""
    corners = [start, end]
    if start @ end < -0.99:
        side = np.cross(start, [1.0, 0.0, 0.0] if abs(start[0]) < 0.9 else [0.0, 1.0, 0.0])
        corners.insert(1, side / np.linalg.norm(side))
    way = [start]
    for one, other in pairwise(corners):
        angle = float(np.arctan2(np.linalg.norm(np.cross(one, other)), one @ other))
        steps = max(1, int(np.ceil(angle / STEP)))
        for k in range(1, steps):
            part = k / steps * angle
            way.append((np.sin(angle - part) * one + np.sin(part) * other) / np.sin(angle))
        way.append(other)
    return np.array(way)
