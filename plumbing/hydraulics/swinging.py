"""Branches that turn round again and again while fluids and flows are worked out in turn.

Where each direction of flow brings the fluid that keeps it going, the rest of the network may
push back whatever is brought: liquid that comes in stops the flow and turns it, air turns it
again. What there is between the two is a line partly filled, in which nothing moves; any
difference between the pressures of the two fluids is one that some length of liquid stands up to.
"""

from dataclasses import dataclass

import numpy as np

from plumbing.hydraulics.problem import NARROW, Problem
from plumbing.physics.arrays import Array, Flags, Indices

WATCHED = 10  # rounds after which it counts that a flow turns round
AGAIN = 3  # turns after that which are no chance


@dataclass(slots=True)
class Swinging:
    """Memory of the rounds so far, scenario by scenario.

    Attributes
    ----------
    sense : Array
        Sign of the last flow that was not nought, shape (S, B).
    turns : Indices
        How often the flow of each branch turned round, shape (S, B).
    rests : Flags
        Branches held to be partly filled and at rest, shape (S, B).
    """

    sense: Array
    turns: Indices
    rests: Flags

    @classmethod
    def begin(cls, flow: Array) -> "Swinging":
        """Nothing has turned yet; `flow` has shape (S, B)."""
        none = np.zeros(flow.shape, dtype=np.intp)
        return cls(np.sign(flow), none, none > 0)

    def rows(self, which: Flags) -> "Swinging":
        """The same for some scenarios."""
        return Swinging(self.sense[which], self.turns[which], self.rests[which])

    def watch(self, problem: Problem, flow: Array) -> Array:
        """Note what turned round; the flows (S, B) to go on from, nothing where it rests."""
        either = problem.contents.forward < problem.contents.backward - NARROW
        turned = either & (self.sense * flow < 0.0)
        self.sense = np.where(flow != 0.0, np.sign(flow), self.sense)
        self.turns = self.turns + turned
        often = turned & (self.turns % AGAIN == 0)
        self.rests = self.rests & (flow == 0.0) | often
        return np.where(self.rests, 0.0, flow)
