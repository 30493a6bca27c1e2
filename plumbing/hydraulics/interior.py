"""The sure way to the flows, for the few scenarios in which Newton's method goes in circles.

Every branch counts as two ways, there and back. A way either flows or is held shut by some
pressure that is left over, never both: flow times holding pressure is zero. Here the product is
first let be large and alike in all ways, then made smaller step by step, so that on the way
nothing has to be called open or shut. As the laws never fall, this comes to the answer from any
start (a primal-dual interior-point method: Boyd and Vandenberghe, Convex Optimization, 2004,
section 11.7; the number of the section is from memory).
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from plumbing.hydraulics.newton import CLOSE, State, usual_flow
from plumbing.hydraulics.problem import SMALL_FLOW, Problem, continuity, flow_scale
from plumbing.physics.arrays import Array, Flags, floats

STEPS = 60  # linear solves; some thirty are usual
FIRST_HOLD = 1e3  # [Pa] holding pressure to begin from
FIRST_FLOW = 0.1  # [-] of the usual flow, both ways
SMALLER = 0.05  # part of the product of flow and holding pressure aimed at in one step
INSIDE = 0.99  # part of the way to where a flow or a holding pressure would be zero
LAST = 1e-13  # [Pa] product of flow and holding pressure at the end, over the largest flow
NEAR_LAST = 3e-13  # [Pa] once it is as small as this the answer is looked at
RIPE = 1e-3  # [Pa] the same where another method finishes,
RIPER = 1e-3  # [-] and by how much smaller it must have become to be tried again
HELD = 100.0  # [Pa] a way held by this does not flow as the largest flow would
STILL = 1e-10  # [-] smaller flows at the end, of the largest, are those of shut branches
ROUGH = 1e-6  # [-] imbalance of volume that is left to be repaired, of the largest flow
MINUTE_FLOW = 1e-7  # [-] of the largest: what is rounded may not hold up all the rest
MINUTE_PRESSURE = 1e-5  # [Pa] the same for holding pressures

Finish = Callable[[Problem, State], State]


@dataclass(slots=True)
class _Ways:
    """Both ways of every branch: shape (2, S, B), there and back.

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
        return _Ways(self.flow[:, which], self.hold[:, which])


def approach(problem: Problem, finish: Finish | None = None) -> State:
    """The steady state of every scenario, without knowing where to begin.

    Long before the end it shows which branches flow; `finish` then tries to get there at once.
    """
    shape = problem.low.shape
    flow = FIRST_FLOW * np.maximum(usual_flow(problem), SMALL_FLOW)
    ways = _Ways(np.stack(2 * [np.broadcast_to(flow, shape)]), np.full((2, *shape), FIRST_HOLD))
    none = np.zeros(shape)
    result = State(none, none > 0.0, np.zeros(problem.demand.shape), np.full(len(none), np.inf))
    active, ripe = np.arange(len(none)), np.full(len(none), RIPE if finish else NEAR_LAST)
    for step in range(1, STEPS + 1):
        ways, pressure, level = _step(problem, ways)
        result.iterations += 1
        tried = (level <= ripe) | (step == STEPS)
        if not tried.any():
            continue
        part = problem.rows(tried)
        state = _read(part, ways.rows(tried), pressure[tried])
        if finish:
            state = _better(state, finish(part, _guess(part, ways.rows(tried), state)))
            result.iterations += state.iterations
        result.put(active[tried], state)
        done = np.zeros(len(active), dtype=bool)
        done[tried] = state.unmet <= CLOSE
        if done.all():
            break
        ripe = np.where(tried & (ripe > NEAR_LAST), RIPER * ripe, ripe)[~done]
        active, problem, ways = active[~done], problem.rows(~done), ways.rows(~done)
    return result


def _step(problem: Problem, ways: _Ways) -> tuple[_Ways, Array, Array]:
    """One linear solve: the ways, pressures, and the product of flow and hold, shape (S,) [Pa]."""
    passes = problem.passes
    need, slope = _needs(problem, ways.flow, passes)
    product = np.where(passes, ways.flow * ways.hold, 0.0).sum(axis=(0, 2))
    mean = (product / np.maximum(passes.sum(axis=(0, 2)), 1))[:, None]
    scale = _scale(problem, ways)[:, None]
    aim = np.maximum(SMALLER * mean, LAST * scale)
    ease = np.where(passes, 1.0 / (slope + ways.hold / ways.flow), 0.0)
    given = np.where(passes, ways.flow - ease * (need - aim / ways.flow), 0.0)
    pressure = problem.pressures(ease.sum(axis=0) + problem.leak, given[0] - given[1])
    across = problem.across(pressure)
    across = np.stack([across, -across])
    change = np.where(passes, given + ease * across - ways.flow, 0.0)
    hold = np.where(passes, (aim - ways.hold * (ways.flow + change)) / ways.flow, 0.0)
    part = _part(ways.flow, change, MINUTE_FLOW * scale)
    part = INSIDE * np.minimum(part, _part(ways.hold, hold, MINUTE_PRESSURE))
    part = np.minimum(part, 1.0)[:, None]
    least = 1.0 - INSIDE
    after = _Ways(
        np.maximum(least * ways.flow, ways.flow + part * change),
        np.maximum(least * ways.hold, ways.hold + part * hold),
    )
    return after, pressure, (mean / scale)[:, 0]


def _needs(problem: Problem, flow: Array, passes: Flags) -> tuple[Array, Array]:
    """Pressure that drives each way, from where it comes to where it goes, and its slope."""
    there, slope = problem.law(flow[0])
    back, slope_back = problem.law(-flow[1])
    need = np.where(passes, np.stack([there, -back]), 0.0)
    return need, np.stack([slope, slope_back])


def _part(value: Array, change: Array, minute: Array | float) -> Array:
    """How often `change` can be made until a value that is not minute is zero, shape (S,)."""
    falls = (change < 0.0) & (value > minute)
    times = np.where(falls, -value / np.where(falls, change, 1.0), np.inf)
    return floats(times.min(axis=(0, 2)))


def _scale(problem: Problem, ways: _Ways) -> Array:
    """Largest flow of any way, shape (S,) [m3/s]."""
    flow = ways.flow.max(axis=0, where=problem.passes, initial=0.0)
    return flow_scale(flow, problem.demand)


def _read(problem: Problem, ways: _Ways, pressure: Array) -> State:
    """What both ways carry together; what hardly flows stands still."""
    scale = _scale(problem, ways)
    both = np.where(problem.passes, ways.flow, 0.0)
    net = both[0] - both[1]
    shut = (problem.low < problem.high) & (np.abs(net) <= STILL * scale[:, None])
    net = np.where(shut, 0.0, net)
    missing = np.abs(continuity(problem.circuit, net, problem.demand)).max(axis=1)
    unmet = np.where(missing <= ROUGH * scale, problem.missed(net, pressure), np.inf)
    return State(net, shut, pressure, unmet)


def _guess(problem: Problem, ways: _Ways, state: State) -> State:
    """The same with all branches shut whose ways are both held more than they flow."""
    held = ways.hold > HELD * ways.flow / _scale(problem, ways)[:, None]
    shut = (problem.low < problem.high) & (held | ~problem.passes).all(axis=0)
    flow = np.where(shut, 0.0, state.flow)
    return State(flow, shut, state.pressure, np.full(len(flow), np.inf))


def _better(state: State, other: State) -> State:
    """Of two states of every scenario the one nearer to its laws."""
    state.put(np.flatnonzero(other.unmet < state.unmet), other.rows(other.unmet < state.unmet))
    state.iterations += other.iterations
    return state
