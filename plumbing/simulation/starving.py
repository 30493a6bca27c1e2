"""What pumps really get: no more than fuel gives before it turns to vapour and air."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.layout_circuit import Plumbed
from plumbing.hydraulics.solver import Solution, solve
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.physics.constants import ATMOSPHERE
from plumbing.physics.pumps import SUCTION_LIMIT
from plumbing.simulation.sealed import Pockets, given

_SPENT = 10.0  # [Pa] a demand that is left no more than this of its limit gets nothing


@frozen(eq=False)
class Drawn:
    """What P demands get in S scenarios.

    Attributes
    ----------
    solution : Solution
        The state with these flows.
    flow : Array
        Flow each demand gets, shape (S, P) [m3/s]: what it wants, or what can be had.
    """

    solution: Solution
    flow: Array


def drawn(
    plumbed: Plumbed,
    conditions: Conditions,
    *,
    start: Array | None = None,
    pockets: Pockets | None = None,
    limit: float = SUCTION_LIMIT,
) -> Drawn:
    """Solve a network in which no demand sucks harder than it can.

    A demand that would need more suction than `limit` gets the flow that comes at that suction;
    one without any way to the outside gets nothing.

    Parameters
    ----------
    plumbed : Plumbed
        The circuit; of `pockets`, if there are any.
    conditions : Conditions
        S scenarios, with the flows that are wanted.
    start : Array, optional
        Flows to begin from, shape (S, B) [m3/s].
    pockets : Pockets, optional
        Shut-in gas.
    limit : float
        Suction at which a demand gets no more [Pa].
    """
    shape = (conditions.scenarios, len(plumbed.circuit.nodes))
    whole = np.broadcast_to(conditions.demand, shape)
    wanted = whole[:, plumbed.demand_node]
    task = _Task(plumbed, conditions, whole, pockets, limit)
    found = task.state(wanted, start)
    pressure = found.pressure[:, plumbed.demand_node]
    cut_off = found.starved[:, plumbed.demand_node] & (pressure >= -ATMOSPHERE)
    flow = np.where(cut_off, 0.0, wanted)
    short = cut_off & (wanted > 0.0)
    while True:
        pulled = found.pressure[:, plumbed.demand_node] < -limit
        more = pulled & (wanted > 0.0) & ~short
        rows = np.flatnonzero(more.any(axis=1))
        if not rows.size:
            break
        short |= more
        flow[rows], again = task.rows(rows).starved(flow[rows], short[rows], found.rows(rows))
        found = found.put(rows, again)
    found.pressure[:, plumbed.demand_node] = np.where(
        short, -limit, found.pressure[:, plumbed.demand_node]
    )
    return Drawn(found, flow)


@frozen(eq=False)
class _Task:
    """A network to be solved for one flow or another; `whole` are all its demands, (S, N)."""

    plumbed: Plumbed
    conditions: Conditions
    whole: Array
    pockets: Pockets | None
    limit: float

    def rows(self, which: Indices) -> _Task:
        pockets = self.pockets.rows(which) if self.pockets else None
        conditions = self.conditions.rows(which)
        return replace(self, conditions=conditions, whole=self.whole[which], pockets=pockets)

    def demand(self, flow: Array) -> Array:
        """Demand at every node where these are drawn (S, P), shape (S, N) [m3/s]."""
        demand = self.whole.copy()
        demand[:, self.plumbed.demand_node] = flow
        return demand + self.pockets.swelling(flow) if self.pockets else demand

    def state(self, flow: Array, start: Array | None) -> Solution:
        """State where these flows are drawn; shut-in gas has its own pressure in the mean."""
        conditions = replace(self.conditions, demand=self.demand(flow))
        if self.pockets is None:
            return solve(self.plumbed.circuit, conditions, start)
        found = solve(self.plumbed.circuit, self._pressed(conditions, self.pockets.pressure), start)
        moved = self.pockets.spread(self.pockets.offset(found.pressure))
        return replace(found, pressure=found.pressure + moved)

    def _pressed(self, conditions: Conditions, pressure: Array) -> Conditions:
        """Conditions with pressures (S, G) [Pa] at the first tank of each closed set."""
        assert self.pockets is not None
        fixed = np.array(np.broadcast_to(conditions.fixed_pressure, self.whole.shape))
        fixed[:, self.pockets.first] = pressure
        return replace(conditions, fixed_pressure=fixed)

    def starved(self, wanted: Array, short: Flags, found: Solution) -> tuple[Array, Solution]:
        """Flow that demands get (S, P) [m3/s] of which some are short, and the state then."""
        flow = np.where(short, 0.0, wanted)
        state = self.state(flow, found.flow)
        pressure = state.pressure[:, self.plumbed.demand_node]
        gives = (short & (pressure > _SPENT - self.limit)).any(axis=1)
        rows = np.flatnonzero(gives)
        if rows.size:
            part = self.rows(rows)
            flow[rows] = part.had(wanted[rows], short[rows], found.rows(rows))
            state = state.put(rows, part.state(flow[rows], found.flow[rows]))
        return flow, state

    def had(self, wanted: Array, short: Flags, found: Solution) -> Array:
        """Flow that demands which are short get at the limit of suction, shape (S, P) [m3/s].

        At most what is wanted. They become nodes of given pressure. Shut-in gas swells by what is
        drawn, so that this is found in two steps.
        """
        flow = wanted.copy()
        for which, columns in _alike(short):
            part = self.rows(which)
            nodes = self.plumbed.demand_node[columns]
            circuit = _pulled(self.plumbed, tuple(nodes.tolist()))
            for _ in range(1 if self.pockets is None else 2):
                demand = part.demand(flow[which])
                demand[:, nodes] = 0.0
                conditions = replace(part.conditions, demand=demand)
                if part.pockets is not None:
                    first = found.pressure[which][:, part.pockets.first]
                    conditions = part._pressed(conditions, first)
                fixed = np.array(np.broadcast_to(conditions.fixed_pressure, part.whole.shape))
                fixed[:, nodes] = -self.limit
                conditions = replace(conditions, fixed_pressure=fixed)
                came = solve(circuit, conditions, found.flow[which]).flow
                got = np.clip(came @ self.plumbed.gains[:, nodes], 0.0, wanted[which][:, columns])
                flow[np.ix_(which, columns)] = got
        return flow


def _alike(short: Flags) -> Iterator[tuple[Indices, Indices]]:
    """Scenarios in which the same demands are short, and which demands these are."""
    patterns, which = np.unique(short, axis=0, return_inverse=True)
    for number, pattern in enumerate(patterns):
        yield np.flatnonzero(np.asarray(which).reshape(-1) == number), np.flatnonzero(pattern)


@lru_cache(maxsize=64)
def _pulled(plumbed: Plumbed, nodes: tuple[int, ...]) -> Circuit:
    """The circuit with the pressure given at these demands."""
    return given(plumbed, np.array(nodes, dtype=np.intp)).circuit
