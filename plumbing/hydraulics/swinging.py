"""Branches that turn round again and again while fluids and flows are worked out in turn.

Where each direction of flow brings the fluid that keeps it going, the rest of the network may
push back whatever is brought: liquid that comes in stops the flow and turns it, air turns it
again. What there is between the two is a line partly filled, in which nothing moves; any
difference between the pressures of the two fluids is one that some length of liquid stands up to.
Or there is a steady flow just before the turn, which too long a step has gone past.
"""

from dataclasses import dataclass

import numpy as np

from plumbing.hydraulics.problem import NARROW, Problem
from plumbing.physics.arrays import Array, Flags, Indices

WATCHED = 10  # rounds after which it counts that a flow turns round
AGAIN = 3  # turns after that which are no chance
CAREFUL = 60  # rounds after which a step that makes a flow turn round is taken back and halved
SHORT = 1e-4  # [-] steps of liquid share shorter than this are not


@dataclass(slots=True)
class Swinging:
    """Memory of the rounds so far, scenario by scenario.

    Attributes
    ----------
    sense : Array
        Sign of the last flow that was not zero, shape (S, B).
    turns : Indices
        How often the flow of each branch turned round, shape (S, B).
    rests : Flags
        Branches held to be partly filled and at rest, shape (S, B).
    share, flow : Array
        Where the last step began that was not taken back, shape (S, N) [-] and (S, B) [m3/s].
    """

    sense: Array
    turns: Indices
    rests: Flags
    share: Array
    flow: Array

    @classmethod
    def begin(cls, share: Array, flow: Array) -> "Swinging":
        """Nothing has turned yet; `share` has shape (S, N), `flow` (S, B)."""
        none = np.zeros(flow.shape, dtype=np.intp)
        return cls(np.sign(flow), none, none > 0, share, flow)

    @property
    def even(self) -> Flags:
        """Scenarios in which nothing has turned round since it counts, shape (S,)."""
        return np.asarray((self.turns == 0).all(axis=1))

    def rows(self, which: Flags) -> "Swinging":
        """The same for some scenarios."""
        return Swinging(
            self.sense[which],
            self.turns[which],
            self.rests[which],
            self.share[which],
            self.flow[which],
        )

    def watch(self, problem: Problem, share: Array, flow: Array, turn: int) -> Flags:
        """Note which flows turned round; scenarios in which the last step is taken back, (S,)."""
        either = problem.contents.forward < problem.contents.backward - NARROW
        turned = either & (self.sense * flow < 0.0) & (turn >= WATCHED)
        far = np.abs(share - self.share).max(axis=1) > SHORT
        back: Flags = turned.any(axis=1) & far & (turn >= CAREFUL)
        stays = back[:, None]
        self.sense = np.where(stays | (flow == 0.0), self.sense, np.sign(flow))
        self.turns = self.turns + (turned & ~stays)
        often = turned & (self.turns % AGAIN == 0) & ~stays
        self.rests = self.rests & ((flow == 0.0) | stays) | often
        self.share = np.where(stays, self.share, share)
        self.flow = np.where(self.rests, 0.0, np.where(stays, self.flow, flow))
        return back
