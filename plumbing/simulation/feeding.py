"""The suction network at work: what each tank gains and loses, and what the pumps receive."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.mixing import mixed
from plumbing.hydraulics.plumbed import Plumbed
from plumbing.hydraulics.solver import Solution, solve
from plumbing.hydraulics.topology import topology
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.simulation.fluid import Fluids
from plumbing.simulation.march import Balance
from plumbing.simulation.state import Ends, branch_ends
from plumbing.simulation.tankage import Tankage


@dataclass(frozen=True, slots=True, eq=False)
class Feeding:
    """Everything that stays the same while a batch of S scenarios marches through K stretches.

    Attributes
    ----------
    plumbed : Plumbed
        Circuit with B branches and P demands.
    tanks : Tankage
        Tanks under the directions of gravity of the run.
    gravity : Array
        Effective gravity of each stretch, shape (K, 3) [m/s2].
    index : Indices
        Direction of each stretch among those of the tankage, shape (K,).
    flow : Array
        Flow drawn by each demand in each stretch, shape (S or 1, K, P) [m3/s].
    fluids : Fluids
        Fuel and air, shape (S or 1,) each.
    outside : Array
        Gauge pressure at the openings in each stretch, shape (S or 1, K, N) [Pa].
    blocked : Flags
        Closed branch ends, shape (S or 1, B, 2).
    multiplier : Array
        Factor on the loss of each branch, shape (S or 1, B).
    dirt : Array
        Factor on the drop of each filter, shape (S or 1, F).
    band : float
        Where in the band of the loss coefficients, 0 to 1.
    """

    plumbed: Plumbed
    tanks: Tankage
    gravity: Array
    index: Indices
    flow: Array
    fluids: Fluids
    outside: Array
    blocked: Flags
    multiplier: Array
    dirt: Array
    band: float = 0.5

    def balance(self, rows: Indices, stretch: Indices, volume: Array) -> Balance:
        """Balance of some scenarios, as `march` asks for it.

        Where the network is a tree with nothing closed, continuity alone gives every flow, so
        that pressures need not be solved for.
        """
        ends = self._ends(rows, stretch, volume)
        demand = self.plumbed.demand(self._flows(rows, stretch))
        paths = topology(self.plumbed.circuit).paths
        if paths is None or self.blocked.any():
            solved = solve(self.plumbed.circuit, self._conditions(rows, stretch, ends, demand))
            return self._balanced(solved.flow, solved.share, solved.node_share, demand)
        flow = demand[:, topology(self.plumbed.circuit).free] @ paths
        return self._balanced(flow, *self._carried(flow, ends), demand)

    def solution(self, rows: Indices, stretch: Indices, volume: Array) -> Solution:
        """Flows and pressures of some scenarios, for the record."""
        ends = self._ends(rows, stretch, volume)
        demand = self.plumbed.demand(self._flows(rows, stretch))
        return solve(self.plumbed.circuit, self._conditions(rows, stretch, ends, demand))

    def _flows(self, rows: Indices, stretch: Indices) -> Array:
        return self.flow[_of(self.flow, rows), stretch]

    def _ends(self, rows: Indices, stretch: Indices, volume: Array) -> Ends:
        density = np.broadcast_to(_pick(self.fluids.liquid_density, rows), (len(rows),))
        tension = np.broadcast_to(_pick(self.fluids.surface_tension, rows), (len(rows),))
        weight = density * np.linalg.norm(self.gravity[stretch], axis=1)
        return branch_ends(self.plumbed, self.tanks, volume, self.index[stretch], weight, tension)

    def _conditions(self, rows: Indices, stretch: Indices, ends: Ends, demand: Array) -> Conditions:
        fluids = self.fluids
        return Conditions.of(
            self.plumbed.circuit,
            gravity=self.gravity[stretch],
            liquid_density=_pick(fluids.liquid_density, rows),
            liquid_viscosity=_pick(fluids.liquid_viscosity, rows),
            gas_density=_pick(fluids.gas_density, rows),
            gas_viscosity=_pick(fluids.gas_viscosity, rows),
            fixed_pressure=self.outside[_of(self.outside, rows), stretch],
            demand=demand,
            head=ends.head,
            share=ends.share,
            threshold=ends.threshold,
            blocked=_pick(self.blocked, rows),
            multiplier=_pick(self.multiplier, rows),
            dirt=_pick(self.dirt, rows),
            band=self.band,
        )

    def _carried(self, flow: Array, ends: Ends) -> tuple[Array, Array]:
        """Liquid share carried by each branch and given by each node, for known flows."""
        circuit = self.plumbed.circuit
        nodes = mixed(circuit, flow, ends.share, np.ones((len(flow), len(circuit.nodes))))
        mixing = topology(circuit).mixing_end
        first = np.where(mixing[:, 0], nodes[:, circuit.start], ends.share[:, :, 0])
        last = np.where(mixing[:, 1], nodes[:, circuit.end], ends.share[:, :, 1])
        return np.where(flow >= 0.0, first, last), nodes

    def _balanced(self, flow: Array, carried: Array, nodes: Array, demand: Array) -> Balance:
        """Liquid gained by tanks, taken by demands and lost through openings."""
        circuit, plumbed = self.plumbed.circuit, self.plumbed
        liquid = flow * carried
        gained = np.zeros((len(flow), len(circuit.nodes)))
        np.add.at(gained, (slice(None), circuit.end), liquid)
        np.subtract.at(gained, (slice(None), circuit.start), liquid)
        reached = plumbed.tank_node >= 0
        rate = np.where(reached, gained[:, plumbed.tank_node], 0.0)
        share = nodes[:, plumbed.demand_node]
        return Balance(
            rate=rate,
            burnt=demand[:, plumbed.demand_node] * share,
            share=share,
            spilt=gained[:, plumbed.outlet_node].sum(axis=1),
        )


def _of(array: Array, rows: Indices) -> Indices:
    """Rows to take of an array that has one row for all, or one for each scenario."""
    return rows if len(array) > 1 else np.zeros_like(rows)


def _pick(array: Array, rows: Indices) -> Array:
    return array[rows] if len(array) > 1 else array
