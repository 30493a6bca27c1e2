"""Laws of the branches when the fluid at both their ends is known.

A branch carries what is found at its upstream end, so its fluid depends on the direction of flow.
Mixed liquid and gas move together as one fluid: density and viscosity are both the mean by volume
share (for viscosity this is one of several rules in use; it is exact at both ends).
"""

from dataclasses import fields, replace

import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics.losses import compile_losses, loss_by_branch
from plumbing.hydraulics.problem import Problem
from plumbing.physics.arrays import Array, Flags, Indices, floats

NARROW = 1e-6  # [Pa] pressures without flow closer together than this are a single value
LEAST_LOSS = 3e-4  # [Pa] at the largest flow: a branch with less counts as having this slope


@frozen(eq=False)
class Laws:
    """Laws of B branches in S scenarios.

    The law of a branch is  p_start - p_end = high + loss(q)  for flow from start to end,
    p_start - p_end = low - loss(|q|)  for flow from end to start, and no flow between the two.

    Attributes
    ----------
    problem : Problem
        What they follow from.
    density, viscosity : Array
        Fluid found at the start and at the end, shape (2, B, S) [kg/m3], [Pa s].
    forward, backward : Array
        Standing part of the law with the fluid of either end, infinite where that direction is
        blocked, shape (B, S) [Pa]; equal for most branches.
    low, high : Array
        The same with the fluid that a siphon holds, shape (B, S) [Pa].
    siphon : Flags
        Branches that either direction of flow can keep going, shape (B, S): each brings the fluid
        that drives it.
    scale : Array
        Largest flow, shape (S,) [m3/s].
    """

    problem: Problem
    density: Array
    viscosity: Array
    forward: Array
    backward: Array
    low: Array
    high: Array
    siphon: Flags
    scale: Array

    @property
    def ranges(self) -> Flags:
        """Whether there is a range of pressures without flow, shape (B, S)."""
        return np.asarray(self.low < self.high)

    @property
    def rest(self) -> Array:
        """The difference nearest to zero at which a branch can be still, shape (B, S) [Pa]."""
        return floats(np.clip(0.0, self.low, self.high))

    def rows(self, which: Flags | Indices) -> "Laws":
        """The same for some scenarios only."""
        names = [entry.name for entry in fields(self)[1:]]
        picked = {name: getattr(self, name)[..., which] for name in names}
        return replace(self, problem=self.problem.rows(which), **picked)

    def holding(self, flow: Array, rests: Flags) -> "Laws":
        """The same with what siphons hold by the flow (B, S), or where they rest (B, S)."""
        low, high = self.backward, self.forward
        narrow = high - low < NARROW
        if (narrow & (high != low)).any():
            starts = (flow > 0.0) | ((flow == 0.0) & (self.density[0] < self.density[1]))
            one = np.where((high < low) & ~starts, low, high)
            rests = rests & self.siphon
            low = np.where(rests, self.forward, np.where(narrow, one, low))
            high = np.where(rests, self.backward, np.where(narrow, one, high))
        return replace(self, low=low, high=high, scale=self.problem.scale(flow))

    def at(self, flow: Array) -> "Drop":
        """Pressure that drives `flow` (B, S)."""
        problem, there = self.problem, flow >= 0.0
        density = np.where(there, self.density[0], self.density[1])
        viscosity = np.where(there, self.viscosity[0], self.viscosity[1])
        size, losses = np.abs(flow), compile_losses(problem.circuit)
        loss, slope = loss_by_branch(
            losses, problem.band, problem.dirt, size, there, density, viscosity
        )
        loss *= problem.multiplier
        slope *= problem.multiplier
        across = np.where(there, self.high + loss, self.low - loss)
        steep = np.maximum(slope, LEAST_LOSS / self.scale)
        return Drop(across, steep, loss, slope * size, density, viscosity)

    def by_share(self, flow: Array, drop: "Drop") -> Array:
        """Change of the law with the liquid share that enters, shape (B, S) [Pa].

        For any branch, loss density / viscosity^2 is a function of density flow / viscosity: the
        derivatives by fluid follow from that by flow.
        """
        problem = self.problem
        denser = problem.liquid_density - problem.gas_density
        thicker = problem.liquid_viscosity - problem.gas_viscosity
        change = (drop.steep - drop.loss) * denser / drop.density
        change += (2.0 * drop.loss - drop.steep) * thicker / drop.viscosity
        return np.where(flow >= 0.0, change, -change) - denser * problem.lift

    def missed(self, shut: Flags, across: Array, law: Array) -> Array:
        """How far each branch is from its law, shape (B, S) [Pa]."""
        outside = np.maximum(np.maximum(across - self.high, self.low - across), 0.0)
        return np.where(shut, outside, np.abs(across - law))


@frozen(eq=False)
class Drop:
    """Laws at some flow, each shape (B, S).

    Attributes
    ----------
    across : Array
        p_start - p_end [Pa].
    slope : Array
        Its derivative by flow, above 0 [Pa s/m3].
    loss, steep : Array
        Loss, and its derivative by flow times flow [Pa].
    density, viscosity : Array
        What is carried [kg/m3], [Pa s].
    """

    across: Array
    slope: Array
    loss: Array
    steep: Array
    density: Array
    viscosity: Array

    def rows(self, which: Flags) -> "Drop":
        """The same for some scenarios only."""
        return Drop(*(getattr(self, entry.name)[:, which] for entry in fields(self)))


def pose(problem: Problem, node_share: Array, flow: Array, rests: Flags) -> Laws:
    """Laws when mixing nodes pass on `node_share` (N, S).

    Where each direction of flow would bring the fluid that keeps it going (a siphon, primed or
    not) there are two steady states: the branch keeps the fluid of `flow` (B, S), and without
    flow it holds the lighter of the two. If it `rests` (B, S) it is partly filled, and stands up
    to any difference between those of the two fluids.
    """
    share = problem.end_share(node_share)
    density = blend(share, problem.liquid_density, problem.gas_density)
    viscosity = blend(share, problem.liquid_viscosity, problem.gas_viscosity)
    forward = problem.head + problem.opening[0] - density[0] * problem.lift
    backward = problem.head - problem.opening[1] - density[1] * problem.lift
    if problem.blocked.any():
        forward = np.where(problem.blocked[0], np.inf, forward)
        backward = np.where(problem.blocked[1], -np.inf, backward)
    siphon = forward < backward - NARROW
    posed = Laws(
        problem, density, viscosity, forward, backward, backward, forward, siphon, problem.band
    )
    return posed.holding(flow, rests)


def blend(share: Array, liquid: Array, gas: Array) -> Array:
    """Mean by volume share; `liquid` and `gas` have shape (S,), `share` (..., S)."""
    return gas + share * (liquid - gas)
