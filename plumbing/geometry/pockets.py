"""Fuel as it lies in the basins of a solid: each pocket has a level of its own.

The fuel of a direction is a volume for each of its basins. Basins filled up to the ridge between
them are one pool with one level. How the fuel of a pool is counted out among its basins means
nothing; it is done in the proportion of what they hold up to where they meet.
"""

from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from plumbing.frozen import frozen
from plumbing.geometry.basins import Basins, basins
from plumbing.geometry.below import volumes_below
from plumbing.geometry.mesh import Mesh
from plumbing.geometry.parted import Passages
from plumbing.physics.arrays import Array, Flags, Indices

_EXACT = 1e-14  # share of the whole solid that is nothing


@frozen(eq=False)
class Pockets:
    """What the nodes of the trees of `Basins` hold, for D directions, K basins, N nodes.

    Attributes
    ----------
    tree : Basins
        The trees.
    face : Indices
        Basin in which each face begins, shape (D, F).
    holds : Array
        Volume of each node up to its ridge, or to the top of the solid, (D, N) [m3]; 0 for none.
    base : Array
        Volume of each where it begins: 0 of a basin, (D, N) [m3]; infinite for none.
    part : Array
        How the volume of each node is counted out among its basins, (D, N, K) [-].
    nothing : float
        Volume that counts as none [m3].
    """

    tree: Basins
    face: Indices
    holds: Array
    base: Array
    part: Array
    nothing: float

    def settled(self, volume: Array, index: Indices) -> Array:
        """Volumes (S, K) [m3] after all that stands over a ridge has run over it.

        `index` is the direction of each, shape (S,). What one basin lacks it gets from a pool
        that it is part of.
        """
        result = np.array(volume, float)
        rows = np.arange(len(result))
        for _ in range(4 * self.tree.most * self.tree.most):
            total, row = self._totals(result[rows], index[rows]), index[rows]
            excess = np.where(self._apart(total, row), total - self.holds[row], 0.0)
            node = excess.argmax(axis=1)
            much = excess[np.arange(len(rows)), node]
            spills = much > self.nothing
            rows, node, much, row = rows[spills], node[spills], much[spills], row[spills]
            if not rows.size:
                break
            result[rows] -= much[:, None] * self.part[row, node]
            result[rows, self.tree.over[row, node]] += much
        return self._counted_out(result, index)

    def pools(self, volume: Array, index: Indices) -> Indices:
        """Node in which the fuel of each basin lies, for settled volumes (S, K), shape (S, K)."""
        joined = self._joined(self._totals(volume, index), index)
        pool = np.tile(np.arange(self.tree.most), (len(volume), 1))
        for node in range(self.tree.most, joined.shape[1]):
            one = joined[:, node, None] & self.tree.inside[index, node]
            pool = np.where(one, node, pool)
        return pool

    def shared(self, rate: Array, volume: Array, index: Indices) -> Array:
        """How fast each basin fills, (S, K) [m3/s], where liquid runs into each at a rate (S, K).

        A pool rises as one, and what runs into a full pocket runs over its ridge. `volume` is
        settled, (S, K) [m3].
        """
        pool, gains = self.pools(volume, index), rate
        at, rows = index[:, None], np.arange(len(rate))[:, None]
        inside = self.tree.inside[at, pool]
        full = (
            np.einsum("skj,sj->sk", inside, volume) >= self.holds[at, pool] * (1.0 - _EXACT)
        ) & (self.tree.up[at, pool] >= 0)
        over = np.maximum(self.tree.over[at, pool], 0)
        for _ in range(self.tree.most):
            whole = np.einsum("skj,sj->sk", inside, gains)
            spills = full & (whole > 0.0)
            if not spills.any():
                break
            part = np.where(spills, gains, 0.0)
            gains = gains - part
            np.add.at(gains, (rows, over), part)
        whole = np.einsum("skj,sj->sk", inside, gains)
        return np.asarray(whole * self.part[at, pool, np.arange(self.tree.most)])

    def below(self, level: Array, basin: Indices, index: Indices) -> tuple[Array, Indices]:
        """Volume below a level in the pool that a basin is part of there [m3], and that pool.

        Parameters
        ----------
        level : Array
            Heights within the solid, shape (S,) [m].
        basin, index : Indices
            Basin, and direction, shape (S,).
        """
        node = basin.copy()
        for _ in range(self.tree.most):
            further = self.tree.up[index, node]
            node = np.where((level > self.tree.high[index, node]) & (further >= 0), further, node)
        within = self.tree.inside[index, node]
        of, bottom = self.face[index], self.tree.low[index].min(axis=1)
        each = np.where(within, level[:, None], bottom[:, None])
        down = self.tree.down[index]
        return volumes_below(self.tree.mesh, down, of, each).sum(axis=1), node

    def drawn_down(self, level: Array, basin: Indices, index: Indices) -> Array:
        """Volumes (S, K) [m3] when a solid, once full, is drawn from in a basin down to a level.

        Every pocket that parts from its pool as it sinks keeps what it holds up to its ridge.
        Parameters as for `below`.
        """
        below, node = self.below(level, basin, index)
        result = below[:, None] * self.part[index, node]
        for _ in range(self.tree.most):
            further = self.tree.up[index, node]
            beside = (self.tree.up[index] == further[:, None]) & (further >= 0)[:, None]
            beside[np.arange(len(node)), node] = False
            kept = np.where(beside, self.holds[index], 0.0)
            result += np.einsum("sn,snk->sk", kept, self.part[index])
            node = np.where(further >= 0, further, node)
        return result

    def keeping(self, gas: Array) -> "Pockets":
        """The same where nodes keep gas that has no way out, so much of their room, (D, N) [m3]."""
        holds = self.holds - gas
        base, part = _counting(self.tree, holds)
        return replace(self, holds=holds, base=base, part=part)

    def drowning(self, before: Indices, after: Indices) -> Array:
        """Volume in a pool at which it wets the lowest corners of another direction, (S, K) [m3].

        `before` is the direction of the pools and `after` that of the basins, shape (S,).
        """
        corner, tree = self.tree.lowest[after], self.tree
        heights = -np.einsum("skc,sc->sk", tree.mesh.vertices[corner], tree.down[before])
        index = np.repeat(before, tree.most)
        basin = np.take_along_axis(tree.of[before], corner, axis=1).ravel()
        return self.below(heights.ravel(), basin, index)[0].reshape(corner.shape)

    def turned(self, volume: Array, before: Indices, after: Indices, drowning: Array) -> Array:
        """Volumes (S, K) [m3] when a solid with settled volumes turns a little.

        A pool keeps together as it turns: it goes where its lowest corners sink, and into every
        new hollow under its surface. If a ridge has risen out of it, it is parted there.

        Parameters
        ----------
        volume : Array
            Volumes, shape (S, K) [m3].
        before, after : Indices
            Directions, shape (S,).
        drowning : Array
            As given for them, shape (S, K) [m3].
        """
        tree, most = self.tree, self.tree.most
        pool, totals = self.pools(volume, before), self._totals(volume, before)
        sinks = np.take_along_axis(tree.of[after], tree.lowest[before], axis=1)
        rises = np.take_along_axis(tree.of[before], tree.lowest[after], axis=1)
        under = np.take_along_axis(pool, rises, axis=1)
        wet = drowning < np.take_along_axis(totals, under, axis=1)
        there = np.arange(most) < tree.count[before][:, None]
        into = wet[:, None] & (under[:, None] == np.arange(2 * most - 1)[:, None])
        row, basin = np.nonzero(there)
        into[row, pool[row, basin], sinks[row, basin]] = True
        share = np.where(into, self.part[after, self._whole(after)][:, None], 0.0)
        share /= np.maximum(share.sum(axis=2, keepdims=True), 1e-300)
        own = np.zeros_like(totals)
        own[row, pool[row, basin]] = totals[row, pool[row, basin]]
        return self.settled(np.einsum("sn,snk->sk", own, share), after)

    def _whole(self, index: Indices) -> Indices:
        """Node that is the whole solid, shape (S,)."""
        count = self.tree.count[index]
        return np.where(count > 1, self.tree.most + count - 2, 0)

    def _totals(self, volume: Array, index: Indices) -> Array:
        """Volume within every node, shape (S, N) [m3]."""
        return np.asarray(np.einsum("snk,sk->sn", self.tree.inside[index], volume))

    def _joined(self, total: Array, index: Indices) -> Flags:
        """Whether a node is one pool, shape (S, N)."""
        return np.asarray(total >= self.base[index] - self.nothing)

    def _apart(self, total: Array, index: Indices) -> Flags:
        """Whether a node has a neighbour over its ridge with which it is not one pool, (S, N)."""
        up = self.tree.up[index]
        joined = self._joined(total, index)
        return np.asarray((up >= 0) & ~np.take_along_axis(joined, np.maximum(up, 0), axis=1))

    def _counted_out(self, volume: Array, index: Indices) -> Array:
        """The same with the fuel of every pool counted out among its basins."""
        total, pool = self._totals(volume, index), self.pools(volume, index)
        rows = np.arange(len(volume))[:, None]
        part = self.part[index[:, None], pool, np.arange(self.tree.most)]
        return np.asarray(total[rows, pool] * part)


def pockets(
    mesh: Mesh, down: ArrayLike, least: float = 0.0, passages: Passages | None = None
) -> Pockets:
    """Pockets of a mesh under some directions; parameters as for `basins`."""
    tree = basins(mesh, down, least, passages)
    face = _begun_in(tree)
    holds = _held(tree, face)
    base, part = _counting(tree, holds)
    return Pockets(tree, face, holds, base, part, _EXACT * tree.mesh.volume)


def _begun_in(tree: Basins) -> Indices:
    """Basin in which each face begins, its lowest corner's, shape (D, F)."""
    corners, of = tree.mesh.faces, tree.of.astype(np.int16)
    first, second, third = (of[:, corners[:, k]] for k in range(3))
    row, face = np.nonzero((first != second) | (first != third))
    some = corners[face]
    heights = -np.einsum("nci,ni->nc", tree.mesh.vertices[some], tree.down[row])
    first[row, face] = of[row, some[np.arange(len(row)), heights.argmin(axis=1)]]
    return first.astype(np.intp)


def _held(tree: Basins, face: Indices) -> Array:
    """Volume of each node up to its ridge, (D, N) [m3]."""
    most, there = tree.most, np.isfinite(tree.low)
    holds = np.where(there & (tree.up < 0), tree.mesh.volume, 0.0)
    bottom = tree.low.min(axis=1, keepdims=True)
    for first in (0, *range(most, 2 * most - 2)):
        nodes = slice(0, most) if first == 0 else slice(first, first + 1)
        parted = tree.up[:, nodes] >= 0
        rows = np.flatnonzero(parted.any(axis=1))
        if not rows.size:
            continue
        within = tree.inside[rows, nodes] & parted[rows][:, :, None]
        level = np.where(within, tree.high[rows, nodes][:, :, None], -np.inf).max(axis=1)
        level = np.where(within.any(axis=1), level, bottom[rows])
        found = volumes_below(tree.mesh, tree.down[rows], face[rows], level)
        volume = np.einsum("dnk,dk->dn", within, found)
        holds[rows, nodes] = np.where(parted[rows], volume, holds[rows, nodes])
    return holds


def _counting(tree: Basins, holds: Array) -> tuple[Array, Array]:
    """Volume at which each node begins, (D, N) [m3], and how it is counted out, (D, N, K)."""
    most, nodes = tree.most, holds.shape[1]
    base = np.where(np.isfinite(tree.low), 0.0, np.inf)
    part = np.zeros((*holds.shape, most))
    part[:, np.arange(most), np.arange(most)] = 1.0
    for node in range(most, nodes):
        share = np.where(tree.up == node, holds, 0.0)
        whole = share.sum(axis=1)
        base[:, node] = np.where(whole > 0.0, whole, np.inf)
        part[:, node] = np.einsum("dn,dnk->dk", share, part)
        part[:, node] /= np.where(whole > 0.0, whole, 1.0)[:, None]
    return base, part
