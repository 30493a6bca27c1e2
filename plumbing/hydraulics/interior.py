"""The sure way to the flows, for the few scenarios in which Newton's method goes in circles.

Every branch counts as two ways, there and back. A way either flows or is held shut by some
pressure that is left over, never both: flow times holding pressure is nought. Here the product is
first let be large and alike in all ways, then made smaller step by step, so that on the way
nothing has to be called open or shut. As the laws never fall, this comes to the answer from any
start (a primal-dual interior-point method: Boyd and Vandenberghe, Convex Optimization, 2004,
section 11.7; the number of the section is from memory).
"""

from dataclasses import dataclass

import numpy as np

from plumbing.hydraulics.newton import CLOSE, State, usual_flow
from plumbing.hydraulics.problem import SMALL_FLOW, Problem, continuity, flow_scale
from plumbing.physics.arrays import Array, Flags, floats

STEPS = 100  # linear solves; some thirty are usual
FIRST_HOLD = 1e3  # [Pa] holding pressure to begin from
FIRST_FLOW = 0.1  # [-] of the usual flow, both ways
SMALLER = 0.05  # part of the product of flow and holding pressure aimed at in one step
INSIDE = 0.99  # part of the way to where a flow or a holding pressure would be nought
LAST = 1e-13  # [Pa] product of flow and holding pressure at the end, over the largest flow
NEAR_LAST = 3e-13  # [Pa] once it is as small as this the answer is looked at
STILL = 1e-10  # [-] smaller flows at the end, of the largest, are those of shut branches
ROUGH = 1e-6  # [-] imbalance of volume that is left to be repaired, of the largest flow
MINUTE_FLOW = 1e-7  # [-] of the largest: what is rounded may not hold up all the rest
MINUTE_PRESSURE = 1e-5  # [Pa] the same for holding pressures


@dataclass(slots=True)
class _Ways:
    """Both ways of every branch: shape (2, S, B), there and back.

    Attributes
    ----------
    flow : Array
        Always above nought [m3/s].
    hold : Array
        Pressure that holds it shut, always above nought [Pa].
    """

    flow: Array
    hold: Array

    def rows(self, which: Flags) -> "_Ways":
        return _Ways(self.flow[:, which], self.hold[:, which])


def approach(problem: Problem) -> State:
    """The steady state of every scenario, without knowing where to begin."""
    shape = problem.low.shape
    flow = FIRST_FLOW * np.maximum(usual_flow(problem), SMALL_FLOW)
    ways = _Ways(np.stack(2 * [np.broadcast_to(flow, shape)]), np.full((2, *shape), FIRST_HOLD))
    none = np.zeros(shape)
    result = State(none, none > 0.0, np.zeros(problem.demand.shape), np.full(len(none), np.inf))
    active = np.arange(len(none))
    for step in range(1, STEPS + 1):
        state, ways, done = _step(problem, ways)
        if step == STEPS:
            state.unmet = problem.missed(state.flow, state.pressure)
        result.put(active, state)
        result.iterations = step
        if done.all():
            break
        if done.any():
            active, problem, ways = active[~done], problem.rows(~done), ways.rows(~done)
    return result


def _step(problem: Problem, ways: _Ways) -> tuple[State, _Ways, Flags]:
    """One linear solve: the state as it would be read, the ways, and which scenarios are done."""
    passes = np.isfinite(np.stack([problem.high, problem.low]))
    need, slope = _needs(problem, ways.flow, passes)
    product = np.where(passes, ways.flow * ways.hold, 0.0).sum(axis=(0, 2))
    mean = (product / np.maximum(passes.sum(axis=(0, 2)), 1))[:, None]
    scale = flow_scale(ways.flow.max(axis=0, where=passes, initial=0.0), problem.demand)[:, None]
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
    state = _read(problem, after.flow, pressure, passes, scale)
    done = (mean <= NEAR_LAST * scale)[:, 0]
    if done.any():
        missing = np.abs(continuity(problem.circuit, state.flow, problem.demand)).max(axis=1)
        state.unmet = problem.missed(state.flow, pressure)
        done &= (missing <= ROUGH * scale[:, 0]) & (state.unmet <= CLOSE)
    return state, after, done


def _needs(problem: Problem, flow: Array, passes: Flags) -> tuple[Array, Array]:
    """Pressure that drives each way, from where it comes to where it goes, and its slope."""
    there, slope = problem.law(flow[0])
    back, slope_back = problem.law(-flow[1])
    need = np.where(passes, np.stack([there, -back]), 0.0)
    return need, np.stack([slope, slope_back])


def _part(value: Array, change: Array, minute: Array | float) -> Array:
    """How often `change` can be made until a value that is not minute is nought, shape (S,)."""
    falls = (change < 0.0) & (value > minute)
    times = np.where(falls, -value / np.where(falls, change, 1.0), np.inf)
    return floats(times.min(axis=(0, 2)))


def _read(problem: Problem, flow: Array, pressure: Array, passes: Flags, scale: Array) -> State:
    """What both ways carry together; what hardly flows stands still."""
    both = np.where(passes, flow, 0.0)
    net = both[0] - both[1]
    shut = (problem.low < problem.high) & (np.abs(net) <= STILL * scale)
    net = np.where(shut, 0.0, net)
    return State(net, shut, pressure, np.full(len(net), np.inf))
