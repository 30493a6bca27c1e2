"""The suction network at work: what each tank gains and loses, and what the pumps receive."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TypeVar

import numpy as np

from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.mixing import mixed
from plumbing.hydraulics.plumbed import Plumbed
from plumbing.hydraulics.reach import Reach, reach
from plumbing.hydraulics.solver import PRESSURE, VOLUME, solve
from plumbing.hydraulics.topology import topology
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.simulation.fluid import Fluids
from plumbing.simulation.moment import Balance, Balancing
from plumbing.simulation.state import TankEnds
from plumbing.simulation.tankage import Tankage


@dataclass(frozen=True, slots=True, eq=False)
class Last:
    """What was last found for each of S scenarios; written over as they march.

    Attributes
    ----------
    flow : Array
        Flow in each branch, shape (S, B) [m3/s].
    share : Array
        Liquid share at each node, shape (S, N) [-].
    """

    flow: Array
    share: Array

    @classmethod
    def of(cls, circuit: Circuit, scenarios: int) -> Last:
        """Nothing found yet: everything stands still in liquid."""
        flow = np.zeros((scenarios, len(circuit.branches)))
        return cls(flow, np.ones((scenarios, len(circuit.nodes))))


@dataclass(frozen=True, slots=True, eq=False)
class Feeding:
    """Everything that stays the same while a batch of S scenarios marches through K stretches.

    Attributes
    ----------
    ends : TankEnds
        Circuit with B branches and P demands, and its ends in the tanks.
    gravity : Array
        Effective gravity of each stretch, shape (K, 3) [m/s2].
    index : Indices
        Direction of each stretch among those of the tankage, shape (K,).
    flow : Array
        Flow drawn by each demand in each stretch, shape (S or 1, K, P) [m3/s].
    fluids : Fluids
        Fuel and air, shape (S or 1,) each.
    stream : Array
        Dynamic pressure of the airstream in each stretch, shape (K,) [Pa].
    coefficient : Array
        Pressure coefficient of each node that is an opening, shape (S or 1, N) [-].
    blocked : Flags
        Closed branch ends, shape (S or 1, B, 2).
    multiplier : Array
        Factor on the loss of each branch, shape (S or 1, B).
    dirt : Array
        Factor on the drop of each filter, shape (S or 1, F).
    band : float
        Where in the band of the loss coefficients, 0 to 1.
    raised : Array or None
        How much higher than drawn each tank stands, shape (S or 1, T) [m].
    """

    ends: TankEnds
    gravity: Array
    index: Indices
    flow: Array
    fluids: Fluids
    stream: Array
    coefficient: Array
    blocked: Flags
    multiplier: Array
    dirt: Array
    band: float = 0.5
    raised: Array | None = None

    def only(self, chosen: Indices) -> Feeding:
        """The same for those stretches only, in that order."""
        return replace(
            self,
            gravity=self.gravity[chosen],
            index=self.index[chosen],
            flow=self.flow[:, chosen],
            stream=self.stream[chosen],
        )

    @property
    def plumbed(self) -> Plumbed:
        """The circuit."""
        return self.ends.plumbed

    @property
    def tanks(self) -> Tankage:
        """Tanks under the directions of gravity of the run."""
        return self.ends.tanks

    def remembering(self, scenarios: int) -> Balancing:
        """Balances that begin from the flows last found for each of so many scenarios.

        That is quicker, and it is what fluids do: a siphon that runs goes on running.
        """
        last = Last.of(self.plumbed.circuit, scenarios)

        def balance(rows: Indices, stretch: Indices, volume: Array) -> Balance:
            return self.balance(rows, stretch, volume, last)

        return balance

    def balance(
        self, rows: Indices, stretch: Indices, volume: Array, last: Last | None = None
    ) -> Balance:
        """Balance of some scenarios, as `march` asks for it.

        Where the network is a tree, continuity alone gives every flow, so that pressures need
        not be solved for. A demand that closed ends cut off from the outside gets nothing.

        Parameters
        ----------
        rows, stretch : Indices
            Scenarios and the stretch each is in, shape (R,).
        volume : Array
            Fuel in each tank, shape (R, T) [m3].
        last : Last, optional
            What was last found for all scenarios, read and written.
        """
        demand, lost = self._met(rows, stretch)
        paths = topology(self.plumbed.circuit).paths
        if paths is None:
            moving = self._solved(rows, stretch, volume, last)
        else:
            flow = demand[:, topology(self.plumbed.circuit).free] @ paths
            share = self.ends.spread(self.ends.share(volume, self.index[stretch]))
            carried, nodes = self._carried(flow, share)
            every = np.ones(len(rows), dtype=bool)
            moving = _Moving(flow, carried, nodes, np.zeros((len(rows), 0)), every)
        return self._balanced(volume, moving, demand, lost)

    def pressures(self, known: Array, rows: Indices, stretch: Indices, volume: Array) -> Array:
        """Gauge pressures at all nodes of scenarios that were balanced, shape (R, N) [Pa].

        Parameters
        ----------
        known : Array
            Pressures the balances hold; of a tree, where they follow from the flows, none.
        rows, stretch : Indices
            As for `balance`.
        volume : Array
            Volumes the balances are for.
        """
        if topology(self.plumbed.circuit).paths is None:
            return known
        return solve(self.plumbed.circuit, self.conditions(rows, stretch, volume)).pressure

    def _solved(self, rows: Indices, stretch: Indices, volume: Array, last: Last | None) -> _Moving:
        """Flows of a network with loops, beginning from what was last found."""
        conditions = self.conditions(rows, stretch, volume)
        if last is None:
            found = solve(self.plumbed.circuit, conditions)
        else:
            conditions = replace(conditions, resting=last.share[rows])
            found = solve(self.plumbed.circuit, conditions, last.flow[rows])
            last.flow[rows], last.share[rows] = found.flow, found.node_share
        met = (found.volume_residual <= VOLUME) & (found.pressure_residual <= PRESSURE)
        return _Moving(found.flow, found.share, found.node_share, found.pressure, met)

    def _met(self, rows: Indices, stretch: Indices) -> tuple[Array, Flags]:
        """Demands that have a way to the outside, and which have none, both (R, N)."""
        wanted = self._demand(rows, stretch)
        ways = _ways(self)
        lost = (wanted > 0.0) & ~_pick(ways.supplied, rows)
        lost |= (wanted < 0.0) & ~_pick(ways.relieved, rows)
        return np.where(lost, 0.0, wanted), lost

    def conditions(self, rows: Indices, stretch: Indices, volume: Array) -> Conditions:
        """Conditions of some scenarios in some stretches, for fuel volumes of shape (R, T) [m3]."""
        fluids = self.fluids
        index = self.index[stretch]
        share = self.ends.share(volume, index)
        density = _pick(fluids.liquid_density, rows)
        weight = density * np.linalg.norm(self.gravity[stretch], axis=1)
        depth = self.ends.depth(volume, share, index)
        return Conditions.of(
            self.plumbed.circuit,
            gravity=self.gravity[stretch],
            liquid_density=density,
            liquid_viscosity=_pick(fluids.liquid_viscosity, rows),
            gas_density=_pick(fluids.gas_density, rows),
            gas_viscosity=_pick(fluids.gas_viscosity, rows),
            fixed_pressure=self.outside(rows, stretch),
            demand=self._demand(rows, stretch),
            head=self.ends.spread(
                weight[:, None] * depth + self._head_of_place(rows, stretch, density, share)
            ),
            share=self.ends.spread(share),
            threshold=self.ends.threshold(volume, index, _pick(fluids.surface_tension, rows)),
            blocked=_pick(self.blocked, rows),
            multiplier=_pick(self.multiplier, rows),
            dirt=_pick(self.dirt, rows),
            band=self.band,
        )

    def outside(self, rows: Indices, stretch: Indices) -> Array:
        """Gauge pressure at the openings of some scenarios in some stretches, (R, N) [Pa]."""
        return self.stream[stretch, None] * _pick(self.coefficient, rows)

    def _head_of_place(
        self, rows: Indices, stretch: Indices, density: Array, share: Array
    ) -> Array | float:
        """Head that raised tanks add to the liquid they deliver, shape (R, Q) [Pa]."""
        if self.raised is None:
            return 0.0
        weight = -density * self.gravity[stretch, 2]
        higher = _pick(self.raised, rows)[:, self.ends.tank]
        added: Array = weight[:, None] * higher * share
        return added

    def _demand(self, rows: Indices, stretch: Indices) -> Array:
        return self.plumbed.demand(self.flow[_of(self.flow, rows), stretch])

    def _carried(self, flow: Array, share: Array) -> tuple[Array, Array]:
        """Liquid share carried by each branch and given by each node, for known flows."""
        circuit = self.plumbed.circuit
        nodes = mixed(circuit, flow, share, np.ones((len(flow), len(circuit.nodes))))
        mixing = topology(circuit).mixing_end
        first = np.where(mixing[:, 0], nodes[:, circuit.start], share[:, :, 0])
        last = np.where(mixing[:, 1], nodes[:, circuit.end], share[:, :, 1])
        return np.where(flow >= 0.0, first, last), nodes

    def _balanced(self, volume: Array, moving: _Moving, demand: Array, lost: Flags) -> Balance:
        """Liquid gained by tanks, taken by demands and lost through openings."""
        plumbed = self.plumbed
        gained = (moving.flow * moving.carried) @ plumbed.gains
        reached = plumbed.tank_node >= 0
        share = np.where(lost, 0.0, moving.nodes)[:, plumbed.demand_node]
        return Balance(
            volume=volume,
            rate=np.where(reached, gained[:, plumbed.tank_node], 0.0),
            burnt=demand[:, plumbed.demand_node] * share,
            share=share,
            spilt=gained[:, plumbed.outlet_node],
            pressure=moving.pressure,
            met=moving.met,
        )


@dataclass(frozen=True, slots=True, eq=False)
class _Moving:
    """What moves: branches (R, B), nodes (R, N).

    Attributes
    ----------
    flow, carried : Array
        Flow in each branch [m3/s] and the liquid share of it, shape (R, B).
    nodes : Array
        Liquid share each node passes on, shape (R, N).
    pressure : Array
        At each node, shape (R, N) [Pa]; (R, 0) for a tree.
    met : Flags
        Whether all laws are met, shape (R,).
    """

    flow: Array
    carried: Array
    nodes: Array
    pressure: Array
    met: Flags


@lru_cache(maxsize=16)
def _ways(feeding: Feeding) -> Reach:
    """Ways to the outside of every node in every scenario; what is closed stays closed."""
    circuit = feeding.plumbed.circuit
    return reach(circuit, Conditions.of(circuit, blocked=feeding.blocked))


Kept = TypeVar("Kept", Array, Flags)


def _of(array: Array, rows: Indices) -> Indices:
    """Rows to take of an array that has one row for all, or one for each scenario."""
    return rows if len(array) > 1 else np.zeros_like(rows)


def _pick(array: Kept, rows: Indices) -> Kept:
    return array[rows] if len(array) > 1 else array
