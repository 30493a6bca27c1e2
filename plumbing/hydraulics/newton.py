"""Flows and pressures with the fluids given, by linearising every branch about its flow."""

from dataclasses import dataclass

import numpy as np

from plumbing.hydraulics.losses import compile_losses
from plumbing.hydraulics.problem import Problem
from plumbing.physics.arrays import Array, Flags, Indices

CLOSE = 3e-3  # [Pa] laws met to this end the iteration
LIMIT = 12  # iterations; of 100 000 problems all but two hundred take no more
PATIENT = 6  # iterations before steps are checked for going too far
EDGE = 1e-9  # [Pa] a branch pressed to its edge as closely as this does not turn round
ROUNDED = 1e-9  # [Pa] pressures are not told apart more closely: without loss it would be a flow
BARELY = 1e-30  # [m3/s] flow of a branch that has just opened
SLOW = 0.3  # [m/s] speed to begin from if nothing is drawn


@dataclass(slots=True)
class State:
    """Where the iteration stands, scenarios first.

    Attributes
    ----------
    flow : Array
        Shape (S, B) [m3/s].
    shut : Flags
        Branches at rest between their two opening pressures, shape (S, B).
    pressure : Array
        Shape (S, N) [Pa].
    unmet : Array
        Largest pressure by which a law is missed, shape (S,) [Pa].
    iterations : int
        Linear solves made.
    """

    flow: Array
    shut: Flags
    pressure: Array
    unmet: Array
    iterations: int = 0

    def rows(self, which: Flags | Indices) -> "State":
        """A copy of some scenarios."""
        return State(self.flow[which], self.shut[which], self.pressure[which], self.unmet[which])

    def put(self, which: Indices, other: "State") -> None:
        """Take over scenarios from a smaller state."""
        self.flow[which], self.shut[which] = other.flow, other.shut
        self.pressure[which], self.unmet[which] = other.pressure, other.unmet


def first_guess(problem: Problem, start: Array | None) -> State:
    """Flows to begin from: those given, or those of the circuit with every loss linear."""
    ranges = problem.low < problem.high
    if start is None or not start.any():
        conductance = _typical(problem)
        rest = problem.rest
        pressure = problem.pressures(conductance, -conductance * rest)
        across = problem.across(pressure)
        flow = conductance * (across - rest)
        shut = ranges & (across >= problem.low) & (across <= problem.high)
    else:
        flow = np.array(start)
        pressure = np.where(problem.circuit.fixed, problem.conditions.fixed_pressure, 0.0)
        pressure = np.array(np.broadcast_to(pressure, problem.demand.shape))
        shut = ranges & (flow == 0.0)
    shut |= ranges & np.isinf(np.where(flow > 0.0, problem.high, problem.low))
    flow[shut] = 0.0
    return State(flow, shut, pressure, np.full(len(flow), np.inf))


def _typical(problem: Problem) -> Array:
    """Conductances at a flow of the right order, shape (S, B) [m3/s/Pa]."""
    flow = usual_flow(problem)
    law, slope = problem.law(flow)
    loss = np.where(
        np.isfinite(law), law - np.where(np.isfinite(law), problem.high, 0.0), slope * flow
    )
    return flow / np.maximum(loss, 1e-3 * slope * flow)


def usual_flow(problem: Problem) -> Array:
    """A flow of the right order: all that is drawn, or a slow flow, shape (S, B) [m3/s]."""
    drawn = np.abs(problem.demand).sum(axis=1, keepdims=True)
    slow = SLOW * compile_losses(problem.circuit).area
    return np.where(drawn > 0.0, drawn, slow)


def settle(problem: Problem, state: State) -> State:
    """Iterate until every branch meets its law, setting scenarios aside as they do."""
    result = state.rows(np.arange(len(state.flow)))
    active = np.arange(len(state.flow))
    law, slope = problem.law(state.flow)
    for iteration in range(LIMIT):
        state, law, slope, done = _step(problem, state, law, slope, iteration >= PATIENT)
        result.iterations += 1
        result.put(active, state)
        if done.all():
            break
        if 4 * done.sum() > len(done):
            active, problem, state = active[~done], problem.rows(~done), state.rows(~done)
            law, slope = law[~done], slope[~done]
    return result


def _step(
    problem: Problem, state: State, law: Array, slope: Array, careful: bool
) -> tuple[State, Array, Array, Flags]:
    """One linear solve: the new state, its laws and slopes, and which scenarios are done."""
    still, shut = state.flow, state.shut
    conductance = np.where(shut, problem.leak, 1.0 / slope)
    excess = problem.across(state.pressure) - np.where(shut, problem.rest, law)
    given = still + conductance * np.where(np.abs(excess) > ROUNDED, excess, 0.0)
    change = problem.changes(conductance, given)
    pressure = state.pressure + change
    across = problem.across(pressure)
    flow = given + conductance * problem.across(change)
    flow, now_shut = _follow(problem, state, across, flow, slope)
    steady = (shut == now_shut).all(axis=1)
    new_law, new_slope = problem.law(flow)
    missed = np.where(now_shut, 0.0, new_law) - across
    if careful:
        went = flow - still
        before = np.where(now_shut, 0.0, slope * went * went).sum(axis=1)
        after = np.where(now_shut, 0.0, missed * went).sum(axis=1)
        too_far = steady & (after > 0.5 * before)
        if too_far.any():
            part = np.where(too_far, before / np.where(too_far, before + after, 1.0), 1.0)
            flow = np.where(too_far[:, None], still + part[:, None] * went, flow)
            new_law, new_slope = problem.law(flow)
            steady &= ~too_far
    unmet = problem.unmet(across, new_law, now_shut).max(axis=1)
    unmet[~steady] = np.inf
    return State(flow, now_shut, pressure, unmet), new_law, new_slope, unmet <= CLOSE


def _follow(
    problem: Problem, state: State, across: Array, linear: Array, slope: Array
) -> tuple[Array, Flags]:
    """New flows and shut branches: a branch that turns round stops first."""
    ranges = problem.low < problem.high
    if not ranges.any():
        return linear, state.shut
    shut = state.shut
    turns = ~shut & ranges & (state.flow * linear <= 0.0)
    barely = turns & (np.abs(linear) * slope <= EDGE)  # open, pressed just to its edge
    linear = np.where(barely, np.where(state.flow < 0.0, -BARELY, BARELY), linear)
    stops = turns & ~barely
    excess = np.where(across > problem.high, across - problem.high, 0.0)
    excess = np.where(across < problem.low, across - problem.low, excess)
    opens = shut & (np.abs(excess) > 0.5 * CLOSE)
    flow = np.where(opens, np.sign(excess) * BARELY, np.where(shut | stops, 0.0, linear))
    return flow, (shut | stops) & ~opens
