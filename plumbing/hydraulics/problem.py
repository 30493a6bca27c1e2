"""A circuit under conditions as the solver reads it: branches and nodes first, scenarios last.

Long runs of scenarios then lie side by side, whatever is done branch by branch. Also which nodes
have a way to the outside under these conditions.
"""

from dataclasses import fields, replace
from functools import lru_cache

import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics import sparse
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.topology import topology
from plumbing.physics.arrays import Array, Flags, Indices, floats

SMALL_FLOW = 1e-9  # [m3/s] a drop a minute; flows are compared to this if nothing larger flows


@frozen(eq=False)
class Problem:
    """Circuit and conditions of S scenarios; the last axis of every array is S, or 1 if all alike.

    Attributes
    ----------
    circuit : Circuit
        N nodes, B branches, F filters.
    liquid_density, gas_density : Array
        Shape (S,) [kg/m3].
    liquid_viscosity, gas_viscosity : Array
        Shape (S,) [Pa s].
    band : Array
        Where in the band of loss coefficients, shape (S,) [-].
    lift : Array
        Gravity times rise, positive if weight helps flow from start to end, shape (B, S) [m2/s2].
    head : Array
        Pressure of the liquid above the end less that above the start, shape (B, S) [Pa].
    opening : Array
        Pressure spent by flow that enters at the start and at the end, shape (2, B, S) [Pa].
    blocked : Flags
        Whether nothing can enter there, shape (2, B, S).
    share : Array
        Liquid share delivered at ends that are at no mixing node, shape (2, B, S) [-].
    multiplier : Array
        Factor on the loss, shape (B, S) [-].
    dirt : Array
        Factor on the loss of filters, shape (F, S) [-].
    fixed_pressure : Array
        0 at free nodes, shape (N, S) [Pa].
    demand : Array
        Flow drawn, shape (N, S) [m3/s].
    resting : Array
        Liquid share at mixing nodes to begin from, shape (N, S) [-].
    """

    circuit: Circuit
    liquid_density: Array
    gas_density: Array
    liquid_viscosity: Array
    gas_viscosity: Array
    band: Array
    lift: Array
    head: Array
    opening: Array
    blocked: Flags
    share: Array
    multiplier: Array
    dirt: Array
    fixed_pressure: Array
    demand: Array
    resting: Array

    @classmethod
    def of(cls, circuit: Circuit, conditions: Conditions, demand: Array) -> "Problem":
        """Turn the conditions over; `demand` (S, N) [m3/s] is what can be met."""
        rise = circuit.points[:, 1] - circuit.points[:, 0]
        fixed = np.where(circuit.fixed, conditions.fixed_pressure, 0.0)
        resting = np.broadcast_to(conditions.resting, demand.shape)
        return cls(
            circuit,
            conditions.liquid_density,
            conditions.gas_density,
            conditions.liquid_viscosity,
            conditions.gas_viscosity,
            conditions.band,
            _over(conditions.gravity @ rise.T),
            _over(conditions.head[:, :, 1] - conditions.head[:, :, 0]),
            _over(conditions.threshold),
            np.ascontiguousarray(conditions.blocked.T),
            _over(conditions.share),
            _over(conditions.multiplier),
            _over(conditions.dirt),
            _over(fixed),
            _over(demand),
            _over(resting),
        )

    @property
    def scenarios(self) -> int:
        """Number of scenarios S."""
        return int(self.demand.shape[-1])

    def rows(self, which: Flags | Indices) -> "Problem":
        """The same for some scenarios only; what is alike for all stays as it is."""
        every = self.scenarios
        picked = {
            entry.name: getattr(self, entry.name)[..., which]
            for entry in fields(self)[1:]
            if getattr(self, entry.name).shape[-1] == every
        }
        return replace(self, **picked)

    def across(self, pressure: Array) -> Array:
        """p_start - p_end of every branch, shape (..., B, S) [Pa]; `pressure` is (..., N, S)."""
        return floats(pressure[..., self.circuit.start, :] - pressure[..., self.circuit.end, :])

    def end_share(self, node_share: Array) -> Array:
        """Liquid share that both ends deliver if mixing nodes pass on (N, S), shape (2, B, S)."""
        shape = topology(self.circuit)
        mixing = shape.mixing_end.T[:, :, None]
        return np.where(mixing, node_share[shape.ends.T], self.share)

    def scale(self, flow: Array) -> Array:
        """Largest flow in each scenario, shape (S,) [m3/s]."""
        largest = np.maximum(np.abs(flow).max(axis=0), np.abs(self.demand).max(axis=0))
        return floats(np.maximum(largest, SMALL_FLOW))

    def imbalance(self, flow: Array) -> Array:
        """Inflow less outflow and demand at each node, 0 at fixed ones, shape (N, S) [m3/s]."""
        into = topology(self.circuit).into
        if len(into):
            left = into @ flow - self.demand
        else:
            left = -self.demand
            np.add.at(left, self.circuit.end, flow)
            np.subtract.at(left, self.circuit.start, flow)
        left[self.circuit.fixed] = 0.0
        return floats(left)


def _over(array: Array) -> Array:
    """Scenarios last instead of first, ends of branches before branches."""
    return np.ascontiguousarray(array.T)


@frozen(eq=False)
class Reach:
    """Ways between each node and any fixed pressure.

    Attributes
    ----------
    supplied : Flags
        Flow can come from a fixed node to this node, shape (S or 1, N).
    relieved : Flags
        Flow can go from this node to a fixed node, shape (S or 1, N).
    """

    supplied: Flags
    relieved: Flags


def reach(circuit: Circuit, conditions: Conditions) -> Reach:
    """Follow open branches from the fixed nodes, both ways, in every scenario at once."""
    blocked = conditions.blocked
    if not blocked.any():
        return _all_open(circuit)
    with_flow, against_flow = ~blocked[:, :, 0], ~blocked[:, :, 1]
    return Reach(
        supplied=_spread(circuit, with_flow, against_flow),
        relieved=_spread(circuit, against_flow, with_flow),
    )


@lru_cache(maxsize=64)
def _all_open(circuit: Circuit) -> Reach:
    """Ways when nothing is blocked."""
    every = np.ones((1, len(circuit.branches)), dtype=bool)
    met = _spread(circuit, every, every)
    return Reach(met, met)


def _spread(circuit: Circuit, forward: Flags, backward: Flags) -> Flags:
    """Nodes met when setting out from fixed nodes; shape (rows of `forward`, N)."""
    if len(circuit.nodes) > sparse.LARGE:
        return sparse.spread(circuit, forward, backward)
    met = np.repeat(circuit.fixed[:, None], len(forward), axis=1)  # nodes first: rows are moved
    forward, backward = forward.T, backward.T
    while True:
        count = met.sum()
        np.logical_or.at(met, circuit.end, met[circuit.start] & forward)
        np.logical_or.at(met, circuit.start, met[circuit.end] & backward)
        if met.sum() == count:
            return met.T
