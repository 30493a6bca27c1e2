"""What a slow turn does to fuel in pockets: it is followed step by step where anything happens."""

import numpy as np

from plumbing.frozen import frozen
from plumbing.geometry.pockets import Pockets
from plumbing.physics.arrays import Array, Flags, Indices


@frozen(eq=False)
class Turn:
    """The way from one direction to another over M stops.

    Attributes
    ----------
    pockets : Pockets
        Pockets of the directions on the way, K basins.
    stops : Indices
        Those at which anything can happen, both ends included, shape (M,).
    drowning : Array
        See `Pockets.drowning`, from each stop to the next, shape (M - 1, K) [m3].
    part : Indices
        Part of the way on which every basin goes over into one other, shape (M,).
    basin : Indices
        Basin at each stop that the basins at the beginning of its part have become, shape (M, K).
    holds : Array
        What these hold up to their ridges, shape (M, K) [m3].
    whole : Indices
        Node that is the whole solid, shape (M,).
    """

    pockets: Pockets
    stops: Indices
    drowning: Array
    part: Indices
    basin: Indices
    holds: Array
    whole: Indices

    def made(self, volume: Array) -> Array:
        """Settled volumes (S, K) [m3] at the end of the way."""
        lying, at, last = np.array(volume, float), np.zeros(len(volume), np.intp), len(self.stops)
        rows = np.arange(len(lying))
        while rows.size:
            lying[rows], at[rows] = self._undisturbed(lying[rows], at[rows])
            rows = rows[at[rows] < last - 1]
            some = at[rows]
            before, after = self.stops[some], self.stops[some + 1]
            lying[rows] = self.pockets.turned(lying[rows], before, after, self.drowning[some])
            at[rows] += 1
            rows = rows[at[rows] < last - 1]
        return lying

    def _undisturbed(self, volume: Array, at: Indices) -> tuple[Array, Indices]:
        """Volumes (S, K) [m3] as far on as nothing runs over a ridge, and the stops there, (S,).

        Either every basin keeps what it has, or all is one pool.
        """
        rows, nothing = np.arange(len(volume))[:, None], self.pockets.nothing
        own = volume[rows, self.basin[at]]
        kept = (own[:, None] <= self.holds).all(axis=2) & (self.part == self.part[at][:, None])
        full = (own >= self.holds[at] - nothing) & (self.holds[at] > 0.0)
        kept &= (full.sum(axis=1) < 2)[:, None]
        total = volume.sum(axis=1)
        one = total[:, None] >= self.pockets.base[self.stops, self.whole] - nothing
        reach, joined = _onwards(kept, at), _onwards(one, at)
        result = np.empty_like(volume)
        result[rows, self.basin[reach]] = own
        pooled = total[:, None] * self.pockets.part[self.stops, self.whole][joined]
        longer = joined > reach
        return np.where(longer[:, None], pooled, result), np.where(longer, joined, reach)


def _onwards(holds: Flags, at: Indices) -> Indices:
    """Last stop up to which something holds at all stops (S, M) from some (S,), these at least."""
    stops = np.arange(holds.shape[1])
    ends = (~holds & (stops > at[:, None])).argmax(axis=1)
    ends = np.where(ends > at, ends - 1, len(stops) - 1)
    return np.where(holds[np.arange(len(at)), at], ends, at)


def turn_along(way: Pockets) -> Turn:
    """The turn over the directions of some pockets, one after the other.

    Where there is but one basin all is one pool, and nothing happens.
    """
    several = np.pad(way.tree.count > 1, 1)
    several[[1, -2]] = True
    stops = np.flatnonzero(several[1:-1] | several[2:] | several[:-2])
    part, basin = _parts(way, stops)
    count = way.tree.count[stops]
    return Turn(
        pockets=way,
        stops=stops,
        drowning=way.drowning(stops[:-1], stops[1:]),
        part=part,
        basin=basin,
        holds=np.take_along_axis(way.holds[stops], basin, axis=1),
        whole=np.where(count > 1, way.tree.most + count - 2, 0),
    )


def _parts(way: Pockets, stops: Indices) -> tuple[Indices, Indices]:
    """Part of the way that each stop is in (M,), and what its basins have become there (M, K)."""
    tree, before, after = way.tree, stops[:-1], stops[1:]
    sinks = np.take_along_axis(tree.of[after], tree.lowest[before], axis=1)
    rises = np.take_along_axis(tree.of[before], tree.lowest[after], axis=1)
    every = np.arange(tree.most)
    there = every < tree.count[before][:, None]
    back = np.take_along_axis(rises, sinks, axis=1)
    alike = (tree.count[before] == tree.count[after]) & ((back == every) | ~there).all(axis=1)
    basin = np.tile(every, (len(stops), 1))
    for stop in np.flatnonzero(alike):
        onto = np.where(there[stop], sinks[stop], every)
        basin[stop + 1] = onto[basin[stop]]
    return np.concatenate([[0], np.cumsum(~alike)]), basin
