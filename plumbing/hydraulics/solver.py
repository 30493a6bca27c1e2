"""Steady flow and pressure in a circuit, for a batch of scenarios at once."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics import junction_mixing as mixing
from plumbing.hydraulics.branch_laws import pose
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.conditions import Conditions, require_sound
from plumbing.hydraulics.gradual import fill
from plumbing.hydraulics.newton import CLOSE, SETTLED, State, begin, follow, settle
from plumbing.hydraulics.problem import Problem, reach
from plumbing.hydraulics.topology import topology
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.physics.constants import ATMOSPHERE

_BY_SCENARIO = (
    "pressure",
    "flow",
    "share",
    "node_share",
    "converged",
    "volume_residual",
    "pressure_residual",
    "starved",
)


@frozen(eq=False)
class Solution:
    """Pressures and flows of a batch of S scenarios.

    Attributes
    ----------
    nodes, branches : tuple of str
        Names, in the order of the arrays.
    pressure : Array
        Gauge pressure at each node, shape (S, N) [Pa].
    flow : Array
        Flow from start to end of each branch, shape (S, B) [m3/s].
    share : Array
        Liquid share of what each branch carries, shape (S, B) [-]. Liquid balances at mixing
        nodes as exactly as volume does.
    node_share : Array
        Liquid share that each mixing node passes on, shape (S, N) [-].
    converged : Flags
        Whether all laws are met: volume to 1e-9 of the largest flow and pressure to 0.01 Pa,
        shape (S,).
    iterations : int
        Linear solves made for the slowest scenario.
    volume_residual : Array
        Largest imbalance at a node over the largest flow, shape (S,) [-].
    pressure_residual : Array
        Largest pressure by which a branch misses its law, shape (S,) [Pa].
    starved : Flags
        Nodes that cannot get what is drawn there, or rid of what is pushed in: no way to a fixed
        pressure, or more than an atmosphere of suction needed, shape (S, N).
    """

    nodes: tuple[str, ...]
    branches: tuple[str, ...]
    pressure: Array
    flow: Array
    share: Array
    node_share: Array
    converged: Flags
    iterations: int
    volume_residual: Array
    pressure_residual: Array
    starved: Flags

    def rows(self, which: Indices) -> Solution:
        """The same for some scenarios."""
        return replace(self, **{name: getattr(self, name)[which] for name in _BY_SCENARIO})

    def put(self, which: Indices, other: Solution) -> Solution:
        """The same with some scenarios from another."""
        arrays = {name: getattr(self, name).copy() for name in _BY_SCENARIO}
        for name, array in arrays.items():
            array[which] = getattr(other, name)
        return replace(self, **arrays, iterations=self.iterations + other.iterations)

    def starved_nodes(self, scenario: int = 0) -> tuple[str, ...]:
        """Names of the starved nodes of one scenario."""
        return tuple(self.nodes[node] for node in np.flatnonzero(self.starved[scenario]))

    def why(self, scenario: int = 0) -> str:
        """Why one scenario has no answer, in words; empty if it has one."""
        names = ", ".join(self.starved_nodes(scenario))
        if names and self.converged[scenario]:
            return f"more than an atmosphere of suction would be needed at {names}"
        if names:
            return f"no open way for air or fuel to {names}"
        if not self.converged[scenario]:
            off = self.pressure_residual[scenario]
            return f"no steady state found: pressures are off by {off:.3g} Pa"
        return ""


VOLUME = 1e-9  # [-] imbalance of volume allowed, of the largest flow
PRESSURE = 0.01  # [Pa] pressure by which a law may be missed


def solve(circuit: Circuit, conditions: Conditions, start: Array | None = None) -> Solution:
    """Find the pressure at every free node and the flow in every branch.

    A branch from a to b obeys  p_a + head_a - p_b - head_b + rho g.(x_b - x_a) = loss(q), less
    the opening pressure of the end that the fluid enters. It carries what is found at its upstream
    end. A branch that neither direction of flow can keep moving stands still: a stand-pipe with
    liquid at its foot and air at its head carries nothing while the pressures lie between those
    that would lift the liquid and those that would press the air down. A branch that either
    direction can keep moving (a siphon) keeps the direction it had in `start`, and without one it
    holds the lighter fluid until something else pushes; if the rest of the network turns it round
    whichever way it goes, it stands still, partly filled.

    Both fluids are taken as incompressible. A circuit in which every free node has just one way
    to the outside is solved directly; others by Newton's method on the flows.

    Parameters
    ----------
    circuit : Circuit
        The network: N nodes, B branches.
    conditions : Conditions
        S scenarios.
    start : Array, optional
        Flows to begin from, shape (S, B) or (B,) [m3/s]; those of a solution nearby save time.

    Returns
    -------
    Solution
        All finite numbers. Scenarios without an answer are not `converged`; `starved` names their
        nodes and the flow drawn there is left out.

    Raises
    ------
    SolveError
        If the conditions hold values no fluid can have.
    """
    require_sound(circuit, conditions)
    scenarios, count = conditions.scenarios, len(circuit.nodes)
    ways = reach(circuit, conditions)
    wanted = np.broadcast_to(conditions.demand, (scenarios, count))
    lost = ((wanted > 0.0) & ~ways.supplied) | ((wanted < 0.0) & ~ways.relieved)
    demand = np.where(lost, 0.0, wanted)
    problem = Problem.of(circuit, conditions, demand)
    if topology(circuit).paths is not None:
        state = solve_tree(problem)
    else:
        flow = None
        if start is not None and np.any(start):
            flow = np.zeros((len(circuit.branches), scenarios)) + np.transpose(np.atleast_2d(start))
        state = steady(problem, flow)
    volume = np.abs(problem.imbalance(state.flow)).max(axis=0) / problem.scale(state.flow)
    met = (volume <= VOLUME) & (state.unmet <= PRESSURE)
    share = problem.end_share(state.share)
    return Solution(
        nodes=circuit.nodes,
        branches=circuit.branches,
        pressure=state.pressure.T,
        flow=state.flow.T,
        share=np.where(state.flow >= 0.0, share[0], share[1]).T,
        node_share=state.share.T,
        converged=met & ~lost.any(axis=1),
        iterations=int(state.solves.max(initial=0)),
        volume_residual=volume,
        pressure_residual=state.unmet,
        starved=lost | (~circuit.fixed & (state.pressure.T < -ATMOSPHERE)),
    )


def steady(problem: Problem, flow: Array | None) -> State:
    """Flows and fluids together: at once, and gradually where that fails.

    What lines held at first decides which way they go: the first flows are those with these fluids.
    """
    first = settle(problem, begin(problem, flow))
    state, share = first, mixing.passed_on(problem, first.flow, first.share)
    left = (first.unmet > CLOSE) | (share != first.share).any(axis=0)
    if left.any():
        state.put(left, follow(problem.rows(left), first.rows(left), SETTLED))
    failed = state.unmet > CLOSE
    if failed.any():
        some = fill(problem.rows(failed), None if flow is None else flow[:, failed])
        some.solves = some.solves + SETTLED
        state.put(failed, some)
    state.flow[np.abs(state.flow) <= mixing.STILL * problem.scale(state.flow)] = 0.0
    return state


def solve_tree(problem: Problem) -> State:
    """Solve a circuit without loops exactly: flows follow from demands, pressures from flows.

    A branch without flow that can stand still at a range of pressures takes the difference
    nearest to zero.
    """
    shape = topology(problem.circuit)
    assert shape.paths is not None
    flow = shape.paths.T @ problem.demand[shape.free]
    share = mixing.passed_on(problem, flow, problem.resting)
    none = np.zeros(flow.shape, dtype=bool)
    laws = pose(problem, share, flow, none)
    across = np.where(flow == 0.0, laws.rest, laws.at(flow).across)
    pressure = np.zeros(share.shape) + problem.fixed_pressure
    pressure[shape.free] = pressure[shape.root] - shape.paths @ across
    unmet = np.abs(problem.across(pressure) - across).max(axis=0)
    turns = np.zeros(flow.shape, dtype=np.intp)
    solves = np.ones(len(unmet), dtype=np.intp)
    return State(flow, none, none, turns, pressure, share, unmet, solves)
