"""Newton's method on flows, pressures and the fluids that follow the flows, for a batch at once.

Every branch is linear about its flow. What junctions pass on is the mix of what flows in, so it
changes with the flows, and the laws of the branches that carry it away change with it: both are
counted in the one linear step (`follow`), or the fluids are held (`settle`).
"""

from dataclasses import dataclass

import numpy as np

from plumbing.hydraulics import junction_mixing as mixing
from plumbing.hydraulics.branch_laws import Drop, Laws, pose
from plumbing.hydraulics.losses import compile_losses
from plumbing.hydraulics.nodal import node_pressures
from plumbing.hydraulics.problem import Problem
from plumbing.physics.arrays import Array, Flags, Indices, floats

CLOSE = 3e-3  # [Pa] laws met to this end the iteration
SETTLED = 12  # linear solves with the fluids held; of 100 000 problems all but 200 take no more
ROUNDED = 1e-9  # [Pa] pressures are not told apart more closely: without loss it would be a flow
BARELY = 1e-30  # [m3/s] flow of a branch that has just opened
SLOW = 0.3  # [m/s] speed to begin from if nothing is drawn
LEAK = 1e-16  # [1/Pa] flow of a shut branch per pascal, of the largest flow
AGAIN = 2  # turns of a siphon that are no chance: after them it stops first


@dataclass(slots=True)
class State:
    """Where the iteration stands, scenarios last.

    Attributes
    ----------
    flow : Array
        Shape (B, S) [m3/s].
    shut : Flags
        Branches at rest between their two opening pressures, shape (B, S).
    rests : Flags
        Siphons among them, partly filled, shape (B, S).
    turns : Indices
        How often each siphon has turned round, shape (B, S).
    pressure : Array
        Shape (N, S) [Pa].
    share : Array
        Liquid share that mixing nodes pass on, shape (N, S) [-].
    unmet : Array
        Largest pressure by which a law is missed, infinite while branches open and shut,
        shape (S,) [Pa].
    solves : Indices
        Linear solves made, shape (S,).
    """

    flow: Array
    shut: Flags
    rests: Flags
    turns: Indices
    pressure: Array
    share: Array
    unmet: Array
    solves: Indices

    def rows(self, which: Flags | Indices) -> "State":
        """A copy of some scenarios."""
        return State(*(getattr(self, name)[..., which] for name in self.__slots__))

    def put(self, which: Flags | Indices, other: "State") -> None:
        """Take over scenarios from a smaller state."""
        for name in self.__slots__:
            getattr(self, name)[..., which] = getattr(other, name)


def begin(problem: Problem, flow: Array | None) -> State:
    """Flows to begin from: those given, (B, S), or those of the circuit with every loss linear."""
    shape = (len(problem.circuit.branches), problem.scenarios)
    none = np.zeros(shape, dtype=bool)
    count = np.zeros(problem.scenarios, dtype=np.intp)
    pressure = np.zeros(problem.demand.shape) + problem.fixed_pressure
    unmet = np.full(problem.scenarios, np.inf)
    if flow is None:
        flow, shut, pressure = _linear(problem, pressure)
    else:
        shut = flow == 0.0
    turns = np.zeros(shape, dtype=np.intp)
    return State(flow, shut, none, turns, pressure, problem.resting, unmet, count)


def _linear(problem: Problem, pressure: Array) -> tuple[Array, Flags, Array]:
    """Flows, shut branches and pressures with every loss linear from zero to a usual flow.

    Siphons begin at rest.
    """
    flow = usual_flow(problem)
    still = np.zeros(flow.shape)
    laws = pose(problem, problem.resting, still, still > 0.0)
    drop = laws.at(flow)
    conductance = flow / np.maximum(drop.loss, 1e-3 * drop.slope * flow)
    given = conductance * (problem.across(pressure) - laws.rest)
    pressure = (
        pressure + node_pressures(problem.circuit, conductance, given[None], problem.demand)[0]
    )
    across = problem.across(pressure)
    flow = conductance * (across - laws.rest)
    flow[laws.siphon | (np.abs(flow) <= mixing.STILL * problem.scale(flow))] = 0.0
    shut = laws.ranges & (across >= laws.low) & (across <= laws.high)
    return np.where(shut, 0.0, flow), shut, pressure


def usual_flow(problem: Problem) -> Array:
    """A flow of the right order: all that is drawn, or a slow flow, shape (B, S) [m3/s]."""
    drawn = np.abs(problem.demand).sum(axis=0)
    slow = SLOW * compile_losses(problem.circuit).area[:, None]
    return np.where(drawn > 0.0, drawn, slow)


def follow(problem: Problem, state: State, limit: int) -> State:
    """Iterate until every branch meets its law with the fluids that the flows bring."""
    return _iterate(problem, state, limit, fluids_follow=True)


def settle(problem: Problem, state: State) -> State:
    """Iterate until every branch meets its law with the fluids of the state."""
    return _iterate(problem, state, SETTLED, fluids_follow=False)


def _iterate(problem: Problem, state: State, limit: int, fluids_follow: bool) -> State:
    """At most `limit` linear solves, setting scenarios aside as they are done."""
    active = np.arange(problem.scenarios)
    result = state = state.rows(active)
    steady = np.isfinite(state.unmet)
    laws = pose(problem, state.share, state.flow, state.rests)
    for turn in range(limit + 1):
        held = state.share
        if fluids_follow:
            state.share = mixing.passed_on(problem, state.flow, held)
        if state.share is held:
            laws = laws.holding(state.flow, state.rests)
        else:
            laws = pose(problem, state.share, state.flow, state.rests)
        _shut_blocked(laws, state)
        drop = laws.at(state.flow)
        across = problem.across(state.pressure)
        missed = laws.missed(state.shut, across, drop.across).max(axis=0)
        even = np.abs(problem.imbalance(state.flow)).max(axis=0) <= mixing.STILL * laws.scale
        state.unmet = np.where(steady & even, missed, np.inf)
        left = state.unmet > CLOSE
        if turn == limit or not left.any():
            break
        if 4 * left.sum() < 3 * len(left):
            if state is not result:
                result.put(active, state)
            active, problem, state = active[left], problem.rows(left), state.rows(left)
            laws, drop = laws.rows(left), drop.rows(left)
        steady = _step(laws, state, drop, fluids_follow)
    if state is not result:
        result.put(active, state)
    return result


def _shut_blocked(laws: Laws, state: State) -> None:
    """Shut what cannot flow the way it does; open what has no range of pressures to rest at."""
    blocked = np.isinf(np.where(state.flow > 0.0, laws.high, laws.low))
    state.shut = laws.ranges & (state.shut | blocked | (state.flow == 0.0))
    state.flow = np.where(state.shut, 0.0, state.flow)


def _step(laws: Laws, state: State, drop: Drop, fluids_follow: bool) -> Flags:
    """One linear solve, made in the state; scenarios in which no branch opened or shut, (S,)."""
    problem, flow, shut = laws.problem, state.flow, state.shut
    conductance = np.where(shut, leak(laws.scale), 1.0 / drop.slope)
    excess = problem.across(state.pressure) - np.where(shut, laws.rest, drop.across)
    given = flow + conductance * np.where(np.abs(excess) > ROUNDED, excess, 0.0)
    nodes = mixing.changing(problem, flow, state.share) if fluids_follow else np.zeros(0, np.intp)
    each = mixing.leaving(problem, flow, nodes)
    brought = each * np.where(shut, 0.0, -conductance * laws.by_share(flow, drop))
    every = np.concatenate([given[None], brought]) if len(nodes) else given[None]
    pressures = node_pressures(problem.circuit, conductance, every, problem.demand)
    pressure, linear = pressures[0], given + conductance * problem.across(pressures[0])
    if len(nodes):
        by_share = np.where(shut, 0.0, brought + conductance * problem.across(pressures[1:]))
        change = mixing.shares_change(problem, flow, state.share, nodes, linear - flow, by_share)[
            :, None
        ]
        pressure = pressure + (change * pressures[1:]).sum(axis=0)
        linear = linear + (change * by_share).sum(axis=0)
    state.pressure = state.pressure + pressure
    state.solves = state.solves + 1
    return _turn(laws, state, linear)


def leak(scale: Array) -> Array:
    """Conductance that stands in for shut branches where this is the largest flow, shape (S,)."""
    return floats(LEAK * scale)


def _turn(laws: Laws, state: State, linear: Array) -> Flags:
    """Take over the new flows; a branch that would turn round at a range of pressures stops first.

    A siphon has no such range and turns, but not for a flow within rounding: it keeps the fluid it
    has. If it turns again and again it stops as well.
    """
    problem, shut = laws.problem, state.shut
    across = problem.across(state.pressure)
    sense = np.sign(state.flow)
    minute = np.abs(linear) <= mixing.STILL * laws.scale
    barely = minute & (laws.siphon | laws.ranges & (sense != 0.0))
    linear = np.where(barely, sense * BARELY, linear)
    turns = ~shut & (sense * np.sign(linear) <= 0.0)
    round_again = laws.siphon & turns & (state.flow != 0.0) & (linear != 0.0)
    state.turns = state.turns + round_again
    partly = round_again & (state.turns > AGAIN)
    stops = turns & laws.ranges | partly
    excess = np.where(across > laws.high, across - laws.high, 0.0)
    excess = np.where(across < laws.low, across - laws.low, excess)
    opens = shut & (np.abs(excess) > 0.5 * CLOSE)
    moving = np.where(shut | stops, 0.0, linear)
    state.flow = np.where(opens, np.sign(excess) * BARELY, moving)
    state.shut = (shut | stops) & ~opens
    state.rests = state.rests & state.shut | partly
    return np.asarray(~(stops | opens).any(axis=0))
