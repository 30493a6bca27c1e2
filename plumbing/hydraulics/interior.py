"""The sure way to the flows, for the few scenarios in which Newton's method goes in circles.

Every branch counts as two ways, there and back. A way either flows or is held shut by some
pressure that is left over, never both: flow times holding pressure is zero. Here the product is
first let be large and alike in all ways, then made smaller step by step, so that on the way
nothing has to be called open or shut. As the laws never fall, this comes to the answer from any
start (a primal-dual interior-point method: Boyd and Vandenberghe, Convex Optimization, 2004,
section 11.7; the number of the section is from memory).
"""

from dataclasses import dataclass

import numpy as np

from plumbing.hydraulics.branch_laws import Laws, pose
from plumbing.hydraulics.junction_mixing import STILL
from plumbing.hydraulics.newton import CLOSE, State, leak, settle, usual_flow
from plumbing.hydraulics.nodal import node_pressures
from plumbing.hydraulics.problem import SMALL_FLOW, Problem
from plumbing.physics.arrays import Array, Flags, floats

STEPS = 60  # linear solves; some thirty are usual
HOLD = 1e3  # [Pa] holding pressure to begin from: more than fuel systems have between two parts
SMALLER = 0.05  # part of the product of flow and holding pressure aimed at in one step
INSIDE = 0.99  # part of the way to where a flow or a holding pressure would be zero
LAST = 1e-13  # [Pa] product of flow and holding pressure at the end, over the largest flow
RIPE = 1e-3  # [Pa] the same where another method tries to finish, and by how much smaller [-] again


@dataclass(slots=True)
class _Ways:
    """Both ways of every branch: shape (2, B, S), there and back.

    Attributes
    ----------
    flow : Array
        Always above zero [m3/s].
    hold : Array
        Pressure that holds it shut, always above zero [Pa].
    """

    flow: Array
    hold: Array

    def rows(self, which: Flags) -> "_Ways":
        return _Ways(self.flow[..., which], self.hold[..., which])


def approach(problem: Problem, state: State) -> State:
    """The steady state with the fluids of `state`, without knowing where to begin.

    Long before the end it shows which branches flow; Newton's method then tries to finish.
    """
    laws = pose(problem, state.share, state.flow, state.rests)
    flow = np.maximum(usual_flow(problem), SMALL_FLOW) * np.ones(laws.low.shape)
    ways = _Ways(np.stack([flow, flow]), np.full((2, *flow.shape), HOLD))
    active = np.arange(problem.scenarios)
    result = state.rows(active)
    ripe = np.full(len(active), RIPE)
    for step in range(1, STEPS + 1):
        ways, pressure, level = _step(laws, ways)
        state.solves = state.solves + 1
        tried = (level <= ripe) | (step == STEPS)
        if not tried.any():
            continue
        part = laws.rows(tried)
        read = _read(part, ways.rows(tried), pressure[:, tried], state.rows(tried))
        guess = _guess(part, ways.rows(tried), read)
        read = _better(read, settle(part.problem, guess))
        result.put(active[tried], read)
        done = np.zeros(len(active), dtype=bool)
        done[tried] = read.unmet <= CLOSE
        if done.all():
            break
        ripe = np.where(tried & (ripe > 10.0 * LAST), RIPE * ripe, ripe)[~done]
        active, laws, ways = active[~done], laws.rows(~done), ways.rows(~done)
        state = state.rows(~done)
    return result


def _passes(laws: Laws) -> Flags:
    """Whether anything can flow there and back, shape (2, B, S)."""
    return np.isfinite(np.stack([laws.high, laws.low]))


def _step(laws: Laws, ways: _Ways) -> tuple[_Ways, Array, Array]:
    """One linear solve: the ways, pressures, and the product of flow and hold, shape (S,) [Pa]."""
    problem, passes = laws.problem, _passes(laws)
    need, slope = _needs(laws, ways.flow, passes)
    product = np.where(passes, ways.flow * ways.hold, 0.0).sum(axis=(0, 1))
    mean = product / np.maximum(passes.sum(axis=(0, 1)), 1)
    scale = _scale(laws, ways)
    aim = np.maximum(SMALLER * mean, LAST * scale)
    ease = np.where(passes, 1.0 / (slope + ways.hold / ways.flow), 0.0)
    given = np.where(passes, ways.flow - ease * (need - aim / ways.flow), 0.0)
    conductance = ease.sum(axis=0) + leak(problem.scale(ways.flow.max(axis=0)))
    fixed = np.zeros(problem.demand.shape) + problem.fixed_pressure
    outside = given[0] - given[1] + conductance * problem.across(fixed)
    pressure = (
        fixed + node_pressures(problem.circuit, conductance, outside[None], problem.demand)[0]
    )
    across = problem.across(pressure)
    across = np.stack([across, -across])
    change = np.where(passes, given + ease * across - ways.flow, 0.0)
    hold = np.where(passes, (aim - ways.hold * (ways.flow + change)) / ways.flow, 0.0)
    part = INSIDE * np.minimum(_part(ways.flow, change), _part(ways.hold, hold))
    part = np.minimum(part, 1.0)
    least = 1.0 - INSIDE
    after = _Ways(
        np.maximum(least * ways.flow, ways.flow + part * change),
        np.maximum(least * ways.hold, ways.hold + part * hold),
    )
    return after, pressure, mean / scale


def _needs(laws: Laws, flow: Array, passes: Flags) -> tuple[Array, Array]:
    """Pressure that drives each way, from where it comes to where it goes, and its slope."""
    there, back = laws.at(flow[0]), laws.at(-flow[1])
    need = np.where(passes, np.stack([there.across, -back.across]), 0.0)
    return need, np.stack([there.slope, back.slope])


def _part(value: Array, change: Array) -> Array:
    """How often `change` can be made until a value is zero, shape (S,)."""
    falls = change < 0.0
    times = np.where(falls, -value / np.where(falls, change, 1.0), np.inf)
    return floats(times.min(axis=(0, 1)))


def _scale(laws: Laws, ways: _Ways) -> Array:
    """Largest flow of any way, shape (S,) [m3/s]."""
    return laws.problem.scale(np.where(_passes(laws), ways.flow, 0.0).max(axis=0))


def _read(laws: Laws, ways: _Ways, pressure: Array, state: State) -> State:
    """What both ways carry together; what hardly flows stands still."""
    problem, scale = laws.problem, _scale(laws, ways)
    both = np.where(_passes(laws), ways.flow, 0.0)
    net = both[0] - both[1]
    state.shut = laws.ranges & (np.abs(net) <= STILL * scale)
    state.flow = np.where(state.shut, 0.0, net)
    state.pressure = pressure
    missing = np.abs(problem.imbalance(state.flow)).max(axis=0)
    law = laws.at(state.flow).across
    missed = laws.missed(state.shut, problem.across(pressure), law).max(axis=0)
    state.unmet = np.where(missing <= STILL * scale, missed, np.inf)
    state.rests = state.rests & state.shut
    return state


def _guess(laws: Laws, ways: _Ways, state: State) -> State:
    """The same with all branches shut whose ways are both held more than they flow."""
    guess = state.rows(np.arange(len(state.unmet)))
    held = ways.hold > HOLD * ways.flow / _scale(laws, ways)
    guess.shut = laws.ranges & (held | ~_passes(laws)).all(axis=0)
    guess.flow = np.where(guess.shut, 0.0, state.flow)
    guess.unmet[:] = np.inf
    return guess


def _better(state: State, other: State) -> State:
    """Of two states of every scenario the one nearer to its laws."""
    better = other.unmet < state.unmet
    solves = other.solves
    state.put(better, other.rows(better))
    state.solves = solves
    return state
