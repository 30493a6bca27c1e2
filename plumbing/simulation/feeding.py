"""The suction network at work: what each tank gains and loses, and what the pumps receive."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.solver import PRESSURE, VOLUME, solve
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.simulation.continuity import Ways
from plumbing.simulation.fuel_network import FuelNetwork, pick
from plumbing.simulation.moment import Balance, Balancing
from plumbing.simulation.sealed import Pockets, Shut, shut_in
from plumbing.simulation.starving import Drawn, drawn

_SAFE = 0.9  # of a pump's limit, suction with twice the losses up to which no pump starves


@frozen(eq=False)
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


class Feeding(FuelNetwork):
    """The same at work."""

    __slots__ = ()

    def remembering(self, scenarios: int, start: Array | None = None) -> Balancing:
        """Balances that begin from the flows last found for each of so many scenarios.

        That is quicker, and it is what fluids do: a siphon that runs goes on running. `start` has
        the flows to begin from, shape (S, B) [m3/s]; none by default.
        """
        last = Last.of(self.plumbed.circuit, scenarios)
        if start is not None:
            last.flow[:] = start

        def balance(
            rows: Indices,
            stretch: Indices,
            volume: Array,
            gas: Array,
            draws: Flags | None = None,
        ) -> Balance:
            return self.balance(rows, stretch, volume, gas, draws, last)

        return balance

    def balance(
        self,
        rows: Indices,
        stretch: Indices,
        volume: Array,
        gas: Array | None = None,
        draws: Flags | None = None,
        last: Last | None = None,
    ) -> Balance:
        """Balance of some scenarios, as `march` asks for it.

        Where continuity alone gives every flow, pressures are not solved for.

        Parameters
        ----------
        rows, stretch : Indices
            Scenarios and the stretch each is in, shape (R,).
        volume : Array
            Fuel in each tank, shape (R, T), or as it lies, shape (R, C) [m3].
        gas : Array, optional
            Gas in each tank as the volume it has at ambient pressure, shape (R, T) [m3]; by
            default all tanks are at ambient pressure.
        draws : Flags, optional
            Which demands draw, shape (R, P) or (R, 1); all by default.
        last : Last, optional
            What was last found for all scenarios, read and written.
        """
        volume = self.tanks.lying(volume, self.index[stretch])
        if gas is None:
            gas = self.tanks.capacity - self.tanks.total(volume)
        wanted = self.wanted(rows, stretch)
        if draws is not None:
            wanted = np.where(draws, wanted, 0.0)
        ways, spare = _ways(self)
        easy = np.broadcast_to(pick(spare, rows) > 0.0, rows.shape)
        if not easy.any():
            found = self._solved(rows, stretch, volume, gas, wanted, last)
        else:
            which = np.broadcast_to(pick(ways.of, rows), rows.shape)
            held = (volume, gas, wanted, pick(self.blocked, rows))
            found, holds = ways.passed_on(
                which, self.index[stretch], *held, suction=pick(spare, rows)
            )
            hard = np.flatnonzero(~(easy & holds))
            if hard.size:
                given = (rows[hard], stretch[hard], volume[hard], gas[hard], wanted[hard])
                found = found.put(hard, self._solved(*given, last))
        if self.tanks.seeps:
            felt = np.linalg.norm(self.gravity[stretch], axis=1)
            seeping = self.tanks.seeping(volume, self.index[stretch], felt)
            found = replace(found, rate=found.rate + seeping)
        return found if draws is None else replace(found, share=np.where(draws, found.share, 0.0))

    def pressures(self, found: Balance, rows: Indices, stretch: Indices) -> Array:
        """Gauge pressures at all nodes of scenarios that were balanced, shape (R, N) [Pa]."""
        pressure, left = found.pressure.copy(), np.flatnonzero(~found.solved)
        if left.size:
            some = found.rows(left)
            given = (rows[left], stretch[left], some.volume, some.held, some.drawn)
            pressure[left] = self._solved(*given, None).pressure
        return pressure

    def _solved(
        self,
        rows: Indices,
        stretch: Indices,
        volume: Array,
        gas: Array,
        wanted: Array,
        last: Last | None,
    ) -> Balance:
        """Balance of scenarios, pressures solved for; `wanted` by the demands (R, P) [m3/s]."""
        which, shut = _shut_in(self)
        of = np.broadcast_to(pick(which, rows), rows.shape)
        parts = []
        for number in np.unique(of):
            at = np.flatnonzero(of == number)
            given = (rows[at], stretch[at], volume[at], gas[at], wanted[at])
            parts.append((at, self._alike(shut[number], *given, last)))
        if len(parts) == 1:
            return parts[0][1]
        order = np.argsort(np.concatenate([at for at, _ in parts]))
        return Balance.joined([found for _, found in parts]).rows(order)

    def _alike(
        self,
        shut: Shut | None,
        rows: Indices,
        stretch: Indices,
        volume: Array,
        gas: Array,
        wanted: Array,
        last: Last | None,
    ) -> Balance:
        """Balance of scenarios in which the same tanks are shut in."""
        conditions = self.conditions(rows, stretch, volume)
        conditions = replace(conditions, demand=self.plumbed.demand(wanted))
        held = self.tanks.total(volume)
        pockets = shut.pockets(self.tanks.capacity, held, gas) if shut else None
        plumbed = shut.plumbed if shut else self.plumbed
        start = None
        if last is not None:
            conditions = replace(conditions, resting=last.share[rows])
            start = last.flow[rows]
        got = drawn(plumbed, conditions, start=start, pockets=pockets, limit=self.limit)
        if last is not None:
            last.flow[rows], last.share[rows] = got.solution.flow, got.solution.node_share
        return self._balanced(volume, gas, wanted, got, pockets, self.index[stretch])

    def _balanced(
        self,
        volume: Array,
        held: Array,
        wanted: Array,
        got: Drawn,
        pockets: Pockets | None,
        index: Indices,
    ) -> Balance:
        """Liquid gained by tanks, taken by demands (wanted: (R, P)) and lost through openings."""
        plumbed, found = self.plumbed, got.solution
        carried = found.flow * found.share
        gained = carried @ plumbed.gains
        mix = found.node_share[:, plumbed.demand_node]
        burnt = got.flow * mix
        gas = np.zeros_like(held) if pockets is None else -pockets.lost(got.flow - burnt)
        short = got.flow < wanted
        return Balance(
            volume=volume,
            held=held,
            rate=self.ends.gained(carried, index),
            gas=gas,
            drawn=got.flow,
            burnt=burnt,
            share=np.where(short, burnt / np.where(short, wanted, 1.0), mix),
            spilt=gained[:, plumbed.outlet_node],
            pressure=found.pressure,
            solved=np.ones(len(volume), dtype=bool),
            met=(found.volume_residual <= VOLUME) & (found.pressure_residual <= PRESSURE),
        )


@lru_cache(maxsize=16)
def _shut_in(feeding: Feeding) -> tuple[Indices, tuple[Shut | None, ...]]:
    """Tanks without a way to the outside in every scenario; what is closed stays closed."""
    return shut_in(feeding.plumbed, feeding.blocked)


@lru_cache(maxsize=16)
def _ways(feeding: Feeding) -> tuple[Ways, Array]:
    """What closed branches leave, and how far gas may be stretched there, (S or 1,) [Pa].

    Up to that suction of shut-in gas continuity alone gives every flow: the network is a tree,
    and twice the suction its pumps need with every port just covered is within their limit. It is
    negative where pressures must always be solved for.
    """
    ways = Ways.left_by(feeding.ends, feeding.blocked)
    tree = ways.tree[ways.of]
    if not tree.any():
        return ways, np.full(tree.shape, -1.0)
    spare = _SAFE * feeding.limit - 2.0 * _suction(feeding)
    return ways, np.where(tree, spare, -1.0)


def _suction(feeding: Feeding) -> Array:
    """Highest suction at a pump with every port just covered and no fault closing anything, (S,).

    In pascals, above that of gas which is shut in.
    """
    plumbed, ends = feeding.plumbed, feeding.ends
    alike = np.concatenate([feeding.gravity, *feeding.flow, feeding.stream[:, None]], axis=1)
    _, first = np.unique(alike, axis=0, return_index=True)
    scenarios = np.arange(feeding.scenarios)
    rows, stretch = (
        one.ravel() for one in np.meshgrid(scenarios, np.asarray(first, np.intp), indexing="ij")
    )
    conditions = feeding.conditions(rows, stretch, np.tile(ends.tanks.slack, (len(rows), 1)))
    weight = feeding.weight(rows, stretch)
    lift = ends.lift[feeding.index[stretch]]
    closed: Flags = np.asarray(feeding.blocked.all(axis=0))[None]
    low = replace(
        conditions,
        share=ends.spread(np.ones_like(lift)),
        head=ends.spread(-weight[:, None] * lift),
        blocked=closed,
    )
    _, shut = shut_in(plumbed, closed)
    circuit = shut[0].plumbed.circuit if shut[0] else plumbed.circuit
    wanted = feeding.wanted(rows, stretch)
    if (wanted <= 0.0).all():
        return np.zeros(len(scenarios))
    pressure = solve(circuit, low).pressure[:, plumbed.demand_node]
    suction = np.where(wanted > 0.0, -pressure, 0.0)
    return np.asarray(suction.reshape(len(scenarios), -1).max(axis=1, initial=0.0))
