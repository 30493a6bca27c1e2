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
from plumbing.hydraulics.solver import PRESSURE, VOLUME, solve
from plumbing.hydraulics.topology import topology
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.physics.pumps import SUCTION_LIMIT
from plumbing.simulation.fluid import Fluids
from plumbing.simulation.moment import Balance, Balancing
from plumbing.simulation.sealed import Pockets, Shut, shut_in
from plumbing.simulation.starving import Drawn, drawn
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
    limit : float
        Suction at which a demand gets no more flow [Pa].
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
    limit: float = SUCTION_LIMIT

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
    def scenarios(self) -> int:
        """Number of scenarios S."""
        many = (self.flow, self.fluids.liquid_density, self.blocked, self.multiplier, self.dirt)
        return max(len(one) for one in (*many, self.coefficient))

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

        That is quicker, and it is what fluids do: a siphon that runs goes on running. Where the
        network is a tree, continuity alone gives every flow; if no pump can starve, pressures are
        not solved for.
        """
        if _by_continuity(self):
            return self._passed_on
        last = Last.of(self.plumbed.circuit, scenarios)

        def balance(rows: Indices, stretch: Indices, volume: Array, gas: Array) -> Balance:
            return self.balance(rows, stretch, volume, gas, last)

        return balance

    def balance(
        self,
        rows: Indices,
        stretch: Indices,
        volume: Array,
        gas: Array | None = None,
        last: Last | None = None,
    ) -> Balance:
        """Balance of some scenarios, as `march` asks for it.

        Parameters
        ----------
        rows, stretch : Indices
            Scenarios and the stretch each is in, shape (R,).
        volume : Array
            Fuel in each tank, shape (R, T) [m3].
        gas : Array, optional
            Gas in each tank as the volume it has at ambient pressure, shape (R, T) [m3]; by
            default all tanks are at ambient pressure.
        last : Last, optional
            What was last found for all scenarios, read and written.
        """
        if gas is None:
            gas = self.tanks.capacity - volume
        which, shut = _shut_in(self)
        of = np.broadcast_to(_pick(which, rows), rows.shape)
        parts = []
        for number in np.unique(of):
            at = np.flatnonzero(of == number)
            given = (rows[at], stretch[at], volume[at], gas[at])
            parts.append((at, self._alike(shut[number], *given, last)))
        if len(parts) == 1:
            return parts[0][1]
        order = np.argsort(np.concatenate([at for at, _ in parts]))
        return Balance.joined([found for _, found in parts]).rows(order)

    def pressures(self, known: Array, rows: Indices, stretch: Indices, volume: Array) -> Array:
        """Gauge pressures at all nodes of scenarios that were balanced, shape (R, N) [Pa].

        Parameters
        ----------
        known : Array
            Pressures the balances hold; none where continuity alone gave the flows.
        rows, stretch : Indices
            As for `balance`.
        volume : Array
            Volumes the balances are for.
        """
        if known.shape[1]:
            return known
        return solve(self.plumbed.circuit, self.conditions(rows, stretch, volume)).pressure

    def _passed_on(self, rows: Indices, stretch: Indices, volume: Array, gas: Array) -> Balance:  # noqa: ARG002
        """Balance of a tree in which no pump starves, by continuity alone."""
        plumbed = self.plumbed
        shape = topology(plumbed.circuit)
        assert shape.paths is not None
        demand = self._demand(rows, stretch)
        flow = demand[:, shape.free] @ shape.paths
        share = self.ends.spread(self.ends.share(volume, self.index[stretch]))
        nodes = mixed(plumbed.circuit, flow, share, np.ones(demand.shape))
        first = np.where(shape.mixing_end[:, 0], nodes[:, plumbed.circuit.start], share[:, :, 0])
        last = np.where(shape.mixing_end[:, 1], nodes[:, plumbed.circuit.end], share[:, :, 1])
        gained = (flow * np.where(flow >= 0.0, first, last)) @ plumbed.gains
        drawn, mix = demand[:, plumbed.demand_node], nodes[:, plumbed.demand_node]
        return Balance(
            volume=volume,
            rate=np.where(plumbed.tank_node >= 0, gained[:, plumbed.tank_node], 0.0),
            gas=np.zeros_like(volume),
            drawn=drawn,
            burnt=drawn * mix,
            share=mix,
            spilt=gained[:, plumbed.outlet_node],
            pressure=np.zeros((len(rows), 0)),
            met=np.ones(len(rows), dtype=bool),
        )

    def _alike(
        self,
        shut: Shut | None,
        rows: Indices,
        stretch: Indices,
        volume: Array,
        gas: Array,
        last: Last | None,
    ) -> Balance:
        """Balance of scenarios in which the same tanks are shut in."""
        conditions = self.conditions(rows, stretch, volume)
        pockets = shut.pockets(self.tanks.capacity, volume, gas) if shut else None
        plumbed = shut.plumbed if shut else self.plumbed
        start = None
        if last is not None:
            conditions = replace(conditions, resting=last.share[rows])
            start = last.flow[rows]
        got = drawn(plumbed, conditions, start=start, pockets=pockets, limit=self.limit)
        if last is not None:
            last.flow[rows], last.share[rows] = got.solution.flow, got.solution.node_share
        wanted = np.broadcast_to(conditions.demand, (len(rows), len(plumbed.circuit.nodes)))
        return self._balanced(volume, wanted[:, plumbed.demand_node], got, pockets)

    def conditions(self, rows: Indices, stretch: Indices, volume: Array) -> Conditions:
        """Conditions of some scenarios in some stretches, for fuel volumes of shape (R, T) [m3]."""
        fluids = self.fluids
        index = self.index[stretch]
        share = self.ends.share(volume, index)
        density = _pick(fluids.liquid_density, rows)
        weight = self.weight(rows, stretch)
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

    def weight(self, rows: Indices, stretch: Indices) -> Array:
        """Weight of the fuel by volume, shape (R,) [Pa/m]."""
        density = _pick(self.fluids.liquid_density, rows)
        return np.asarray(density * np.linalg.norm(self.gravity[stretch], axis=1))

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

    def _balanced(
        self, volume: Array, wanted: Array, got: Drawn, pockets: Pockets | None
    ) -> Balance:
        """Liquid gained by tanks, taken by demands (wanted: (R, P)) and lost through openings."""
        plumbed, found = self.plumbed, got.solution
        gained = (found.flow * found.share) @ plumbed.gains
        node = plumbed.tank_node
        mix = found.node_share[:, plumbed.demand_node]
        burnt = got.flow * mix
        gas = np.zeros_like(volume) if pockets is None else -pockets.lost(got.flow - burnt)
        short = got.flow < wanted
        return Balance(
            volume=volume,
            rate=np.where(node >= 0, gained[:, node], 0.0),
            gas=gas,
            drawn=got.flow,
            burnt=burnt,
            share=np.where(short, burnt / np.where(short, wanted, 1.0), mix),
            spilt=gained[:, plumbed.outlet_node],
            pressure=found.pressure,
            met=(found.volume_residual <= VOLUME) & (found.pressure_residual <= PRESSURE),
        )


@lru_cache(maxsize=16)
def _shut_in(feeding: Feeding) -> tuple[Indices, tuple[Shut | None, ...]]:
    """Tanks without a way to the outside in every scenario; what is closed stays closed."""
    return shut_in(feeding.plumbed, feeding.blocked)


@lru_cache(maxsize=16)
def _by_continuity(feeding: Feeding) -> bool:
    """Whether continuity gives all flows: a tree, open to the outside, in which no pump starves.

    What is closed in it carries no flow. That no pump starves is sure if with every port just
    covered no pump needs half the suction it can give: the other half is more than levels and air
    in the lines can change.
    """
    plumbed, ends = feeding.plumbed, feeding.ends
    _, shut = _shut_in(feeding)
    paths = topology(plumbed.circuit).paths
    if paths is None or shut != (None,):
        return False
    alike = np.concatenate([feeding.gravity, *feeding.flow, feeding.stream[:, None]], axis=1)
    _, first = np.unique(alike, axis=0, return_index=True)
    scenarios = np.arange(feeding.scenarios)
    rows, stretch = (
        one.ravel() for one in np.meshgrid(scenarios, np.asarray(first, np.intp), indexing="ij")
    )
    demand = feeding._demand(rows, stretch)
    flow = demand[:, ~plumbed.circuit.fixed] @ paths
    if (_pick(feeding.blocked, rows).any(axis=2) & (flow != 0.0)).any():
        return False
    if (demand <= 0.0).all():
        return True
    conditions = feeding.conditions(rows, stretch, np.zeros((len(rows), len(plumbed.tanks))))
    weight = feeding.weight(rows, stretch)
    lift = ends.lift[feeding.index[stretch]]
    low = replace(
        conditions,
        share=ends.spread(np.ones_like(lift)),
        head=ends.spread(-weight[:, None] * lift),
    )
    suction = -solve(plumbed.circuit, low).pressure
    return bool(((suction < 0.5 * feeding.limit) | (demand <= 0.0)).all())


Kept = TypeVar("Kept", Array, Flags, Indices)


def _of(array: Array, rows: Indices) -> Indices:
    """Rows to take of an array that has one row for all, or one for each scenario."""
    return rows if len(array) > 1 else np.zeros_like(rows)


def _pick(array: Kept, rows: Indices) -> Kept:
    return array[rows] if len(array) > 1 else array
