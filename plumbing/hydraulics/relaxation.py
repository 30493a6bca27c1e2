"""How far to go towards the fluids just found, when flows and fluids are worked out in turn."""

from dataclasses import dataclass

import numpy as np

from plumbing.physics.arrays import Array, Flags

PLAIN = 2  # rounds that take the new fluids as they are
SHORTER = 0.05  # least by which the part of the way gone may change from round to round
CREEPING = 20  # rounds after which fluids that still move the same way are sent further ahead
LONGER = 100.0  # than they ask for, by so much at most
SLOWER = 30.0  # rounds until it may grow by a half from round to round instead of doubling


@dataclass(slots=True)
class Relaxation:
    """Memory of the rounds so far, scenario by scenario and node by node.

    Attributes
    ----------
    part : Array
        Part of the way gone last, shape (S, N) [-].
    last : Array
        Way in the round before, shape (S, N) [-].
    """

    part: Array
    last: Array

    @classmethod
    def begin(cls, share: Array) -> "Relaxation":
        """Nothing known yet; `share` has shape (S, N)."""
        return cls(np.ones(share.shape), np.zeros(share.shape))

    def rows(self, which: Flags) -> "Relaxation":
        """The same for some scenarios."""
        return Relaxation(self.part[which], self.last[which])

    def next(self, share: Array, mix: Array, turn: int, back: Flags) -> Array:
        """Share to try next, shape (S, N) [-].

        At first the whole way to `mix`; then, node by node, a part that shrinks where the way
        turns round and grows where it does not, in the end to more than the whole.
        Where the last step is taken `back` (S,) the part is halved.
        """
        way = mix - share
        if turn >= PLAIN:
            most = 1.0 + 1.0 / (1.0 + turn / SLOWER)
            nearer = self.last - way
            steps = np.divide(self.last, nearer, out=np.full_like(way, most), where=nearer != 0.0)
            steps = np.where(steps < 0.0, most, np.clip(steps, SHORTER, most))
            part = np.minimum(self.part * steps, LONGER if turn >= CREEPING else 1.0)
            self.part = np.where(back[:, None], 0.5 * self.part, part)
        self.last = np.where(back[:, None], self.last, way)
        return np.clip(share + self.part * way, 0.0, 1.0)
