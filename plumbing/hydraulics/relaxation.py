"""How far to go towards the fluids just found, when flows and fluids are worked out in turn."""

from dataclasses import dataclass

import numpy as np

from plumbing.physics.arrays import Array, Flags

PLAIN = 2  # rounds that take the new fluids as they are
SHORTER = 0.05  # least by which the part of the way gone may change from round to round
CREEPING = 20  # rounds after which fluids that still move the same way are sent further ahead
LONGER = 100.0  # than they ask for, by so much at most
SLOWER = 30.0  # rounds until it may grow by a half from round to round instead of doubling
TOGETHER = 24  # rounds after which all nodes of a scenario are looked at together
EVERY = 4  # rounds between two looks
DEPTH = 5  # rounds looked back on
FLAT = 1e-6  # [-] differences between rounds smaller than the largest by this say nothing


@dataclass(slots=True)
class Relaxation:
    """Memory of the rounds so far, scenario by scenario and node by node.

    Attributes
    ----------
    part : Array
        Part of the way gone last, shape (S, N) [-].
    last : Array
        Way in the round before, shape (S, N) [-].
    shares, ways : Array
        Shares tried in the last rounds and the ways they asked for, shape (S, rounds, N) [-].
    """

    part: Array
    last: Array
    shares: Array
    ways: Array

    @classmethod
    def begin(cls, share: Array) -> "Relaxation":
        """Nothing known yet; `share` has shape (S, N)."""
        none = np.zeros((len(share), 0, share.shape[1]))
        return cls(np.ones(share.shape), np.zeros(share.shape), none, none)

    def rows(self, which: Flags) -> "Relaxation":
        """The same for some scenarios."""
        return Relaxation(self.part[which], self.last[which], self.shares[which], self.ways[which])

    def next(self, share: Array, mix: Array, turn: int, back: Flags, even: Flags) -> Array:
        """Share to try next, shape (S, N) [-].

        At first the whole way to `mix`; then, node by node, a part that shrinks where the way
        turns round and grows where it does not, in the end to more than the whole.
        Where the last step is taken `back` (S,) the part is halved. Where ways change `even`ly
        with shares (S,), what all nodes did in the last rounds is looked at together in the end.
        """
        way = mix - share
        self.shares = np.concatenate([self.shares, share[:, None]], axis=1)[:, -DEPTH - 1 :]
        self.ways = np.concatenate([self.ways, way[:, None]], axis=1)[:, -DEPTH - 1 :]
        if turn >= PLAIN:
            most = 1.0 + 1.0 / (1.0 + turn / SLOWER)
            nearer = self.last - way
            steps = np.divide(self.last, nearer, out=np.full_like(way, most), where=nearer != 0.0)
            steps = np.where(steps < 0.0, most, np.clip(steps, SHORTER, most))
            part = np.minimum(self.part * steps, LONGER if turn >= CREEPING else 1.0)
            self.part = np.where(back[:, None], 0.5 * self.part, part)
        self.last = np.where(back[:, None], self.last, way)
        after = share + self.part * way
        if turn >= TOGETHER and turn % EVERY == 0 and even.any():
            after[even] = self._together(even)
        return np.clip(after, 0.0, 1.0)

    def _together(self, which: Flags) -> Array:
        """Share at which no way would be left if ways change in proportion, shape (rows, N) [-].

        Anderson's mixing: Walker and Ni, SIAM Journal on Numerical Analysis 49, 2011.
        """
        shares, ways = self.shares[which], self.ways[which]
        moved, changed = np.diff(shares, axis=1), np.diff(ways, axis=1)
        weight = ways[:, -1:] @ np.linalg.pinv(changed, rcond=FLAT)
        return (shares[:, -1:] + ways[:, -1:] - weight @ (moved + changed))[:, 0]
