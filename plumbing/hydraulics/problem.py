"""One steady problem with the fluids given: laws of the branches and how far they are from met."""

from dataclasses import dataclass

import numpy as np

from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.contents import Contents
from plumbing.hydraulics.losses import Moving, branch_loss, compile_losses
from plumbing.hydraulics.nodal import node_pressures
from plumbing.physics.arrays import Array, Flags, floats

NARROW = 1e-6  # [Pa] a range of pressure without flow narrower than this is a single value
LEAST_LOSS = 3e-4  # [Pa] at the largest flow: a branch with less counts as having this slope
SMALL_FLOW = 1e-9  # [m3/s] a drop a minute; flows are compared to this if nothing larger flows


@dataclass(frozen=True, slots=True, eq=False)
class Problem:
    """Laws of all branches for a batch of S scenarios.

    Attributes
    ----------
    circuit, conditions, contents
        What they follow from.
    low, high : Array
        No flow while p_start - p_end is between them, shape (S, B) [Pa]; equal for most branches.
    demand : Array
        Flow drawn at each node, shape (S, N) [m3/s].
    leak : Array
        Conductance that stands in for a shut branch, shape (S, 1) [m3/s/Pa].
    """

    circuit: Circuit
    conditions: Conditions
    contents: Contents
    low: Array
    high: Array
    demand: Array
    leak: Array

    @property
    def rest(self) -> Array:
        """The difference nearest to nothing at which a branch can be still, shape (S, B) [Pa]."""
        return floats(np.clip(0.0, self.low, self.high))

    @property
    def passes(self) -> Flags:
        """Whether anything can flow there and back, shape (2, S, B)."""
        return np.isfinite(np.stack([self.high, self.low]))

    def rows(self, which: Flags) -> "Problem":
        """The same for some scenarios only."""
        given = self.contents
        picked = Contents(
            given.density[which],
            given.viscosity[which],
            given.forward[which],
            given.backward[which],
        )
        return Problem(
            self.circuit,
            self.conditions.rows(which),
            picked,
            self.low[which],
            self.high[which],
            self.demand[which],
            self.leak[which],
        )

    def law(self, flow: Array) -> tuple[Array, Array]:
        """p_start - p_end that drives `flow`, and its slope, both shape (S, B)."""
        forward = flow >= 0.0
        density, viscosity = self.contents.density, self.contents.viscosity
        moving = Moving(
            np.abs(flow),
            forward,
            np.where(forward, density[:, :, 0], density[:, :, 1]),
            np.where(forward, viscosity[:, :, 0], viscosity[:, :, 1]),
        )
        loss, slope = branch_loss(compile_losses(self.circuit), self.conditions, moving)
        loss *= self.conditions.multiplier
        slope *= self.conditions.multiplier
        least = LEAST_LOSS / flow_scale(flow, self.demand)
        np.maximum(slope, least[:, None], out=slope)
        return np.where(forward, self.high + loss, self.low - loss), slope

    def pressures(self, conductance: Array, given: Array) -> Array:
        """Pressures at all nodes with every branch linear, shape (S, N) [Pa]."""
        fixed = self.conditions.fixed_pressure
        return node_pressures(self.circuit, conductance, given, self.demand, fixed)

    def changes(self, conductance: Array, given: Array) -> Array:
        """Changes of all pressures, those that are fixed left as they are, shape (S, N) [Pa]."""
        return node_pressures(self.circuit, conductance, given, self.demand, np.zeros(1))

    def across(self, pressure: Array) -> Array:
        """p_start - p_end of every branch, shape (S, B) [Pa]."""
        return pressure[:, self.circuit.start] - pressure[:, self.circuit.end]

    def missed(self, flow: Array, pressure: Array) -> Array:
        """Largest pressure by which a branch misses its law, shape (S,) [Pa]."""
        law, _ = self.law(flow)
        shut = (flow == 0.0) & (self.low < self.high)
        return floats(self.unmet(self.across(pressure), law, shut).max(axis=1))

    def unmet(self, across: Array, law: Array, shut: Flags) -> Array:
        """How far each branch is from its law, shape (S, B) [Pa]."""
        outside = np.maximum(np.maximum(across - self.high, self.low - across), 0.0)
        return np.where(shut, outside, np.abs(across - law))


def standing(contents: Contents, flow: Array, rests: Flags | None = None) -> tuple[Array, Array]:
    """Range of p_start - p_end without flow: low and high, shape (S, B) [Pa].

    Where each direction of flow would bring the fluid that keeps it going (a siphon, primed or
    not) there are two steady states and no such range: the branch keeps the fluid of `flow`, and
    without flow it holds the lighter of the two. If it `rests` (S, B) it is partly filled, and
    stands up to any difference between those of the two fluids.
    """
    low, high = contents.backward, contents.forward
    two_states = high < low
    narrow = high - low < NARROW
    if not (narrow & (high != low)).any():
        return low, high
    lighter = contents.density[:, :, 0] < contents.density[:, :, 1]
    one = np.where((flow > 0.0) | ((flow == 0.0) & lighter), high, low)
    one = np.where(two_states, one, high)
    low, high = np.where(narrow, one, low), np.where(narrow, one, high)
    if rests is None or not rests.any():
        return low, high
    rests = rests & two_states
    return np.where(rests, contents.forward, low), np.where(rests, contents.backward, high)


def continuity(circuit: Circuit, flow: Array, demand: Array) -> Array:
    """Inflow less outflow and demand at each node, 0 at fixed ones, shape (S, N) [m3/s]."""
    left = -demand.copy()
    rows = np.zeros((len(circuit.nodes), len(flow)))
    np.add.at(rows, circuit.end, flow.T)
    np.subtract.at(rows, circuit.start, flow.T)
    left += rows.T
    left[:, circuit.fixed] = 0.0
    return left


def flow_scale(flow: Array, demand: Array) -> Array:
    """Largest flow in each scenario, shape (S,) [m3/s]."""
    largest = np.maximum(np.abs(flow).max(axis=1), np.abs(demand).max(axis=1))
    return floats(np.maximum(largest, SMALL_FLOW))
