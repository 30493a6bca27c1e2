"""The slow, sure way to the flows, for the few scenarios in which Newton's method goes in circles.

The flow of each branch is a continuous, never falling function of the difference in pressure, so
what flows out of the nodes too much is the gradient of a convex function of the node pressures.
Its minimum is found by damped Newton steps with a search along each.
"""

import numpy as np

from plumbing.hydraulics.newton import State
from plumbing.hydraulics.nodal import node_pressures
from plumbing.hydraulics.problem import Problem, continuity, flow_scale
from plumbing.physics.arrays import Array, Flags

STEPS = 80  # pressure steps
TRIES = 12  # points tried along one step
TURNS = 60  # iterations for the flow of a branch under given pressure
NEAR = 1e-10  # [-] imbalance of volume at the end, of the largest flow


def descend(problem: Problem, state: State) -> State:
    """The steady state, from any other."""
    pressure = np.where(problem.circuit.fixed, problem.conditions.fixed_pressure, state.pressure)
    flow, slope, shut = flow_under(problem, pressure, state.flow)
    damping = np.full((len(flow), 1), 1e-2)
    for _ in range(STEPS):
        missing = _missing(problem, pressure, flow)
        scale = flow_scale(flow, problem.demand)
        if (np.abs(missing).max(axis=1) <= NEAR * scale).all():
            break
        conductance = np.where(shut, np.maximum(damping / slope, problem.leak), 1.0 / slope)
        step = node_pressures(
            problem.circuit, conductance, np.zeros_like(flow), -missing, np.zeros_like(missing)
        )
        part, flow, slope, shut = _search(problem, pressure, step, flow, missing)
        pressure = pressure + part * step
        damping = np.clip(np.where(part == 1.0, 0.2 * damping, 4.0 * damping), 1e-12, 1.0)
    flow = np.where(shut, 0.0, flow)
    return State(flow, shut, pressure, problem.missed(flow, pressure))


def _missing(problem: Problem, pressure: Array, flow: Array) -> Array:
    """Inflow short of outflow at each node, shut branches leaking, shape (S, N) [m3/s]."""
    leaking = problem.leak * (problem.across(pressure) - problem.rest)
    return continuity(problem.circuit, flow + leaking, problem.demand)


def _search(
    problem: Problem, pressure: Array, step: Array, flow: Array, missing: Array
) -> tuple[Array, Array, Array, Flags]:
    """Part of `step` (S, N) to go, shape (S, 1), and flow, slope and shut branches there.

    `missing` times `step` is the fall along the step; it must at least halve in size.
    """
    fall = (missing * step).sum(axis=1, keepdims=True)
    behind, ahead = np.zeros_like(fall), np.ones_like(fall)
    at_behind, at_ahead = fall, np.full_like(fall, np.nan)
    part, good = np.ones_like(fall), np.zeros(fall.shape, dtype=bool)
    for trial in range(TRIES):
        here = pressure + part * step
        flow, slope, shut = flow_under(problem, here, flow)
        now = (_missing(problem, here, flow) * step).sum(axis=1, keepdims=True)
        past = now < 0.0
        good |= (np.abs(now) <= 0.5 * np.abs(fall)) | ((trial == 0) & ~past)
        if good.all():
            break
        ahead, at_ahead = np.where(past, part, ahead), np.where(past, now, at_ahead)
        behind, at_behind = np.where(past, behind, part), np.where(past, at_behind, now)
        straight = behind + (ahead - behind) * at_behind / (at_behind - at_ahead)
        middle = 0.5 * (behind + ahead)
        part = np.where(good, part, straight if trial % 2 == 0 else middle)
    return part, flow, slope, shut


def flow_under(problem: Problem, pressure: Array, near: Array) -> tuple[Array, Array, Flags]:
    """Flow of each branch between given pressures, by Newton's method inside a bracket.

    Parameters
    ----------
    problem : Problem
        Laws of the branches.
    pressure : Array
        At the nodes, shape (S, N) [Pa].
    near : Array
        Flows to begin from, shape (S, B) [m3/s].

    Returns
    -------
    tuple of Array
        Flow [m3/s], slope of the law there [Pa s/m3], and which branches stand still, (S, B).
    """
    across = problem.across(pressure)
    ranges = problem.low < problem.high
    above, below = across > problem.high, across < problem.low
    sense = np.where(above, 1.0, np.where(below, -1.0, 0.0))
    shut = ranges & (sense == 0.0)
    wanted = np.where(above, across - problem.high, np.where(below, problem.low - across, 0.0))
    barely = np.where(sense < 0.0, -1e-30, 1e-30)
    _, easy = problem.law(barely)
    most = np.where(wanted > 0.0, 4.0 * wanted / easy, 0.0)
    least = np.zeros_like(most)
    size = np.where(near * sense > 0.0, np.minimum(np.abs(near), most), 0.5 * most)
    edge = np.where(above, problem.high, np.where(below, problem.low, 0.0))
    slope = easy
    for _ in range(TURNS):
        law, slope = problem.law(np.where(size > 0.0, sense * size, barely))
        excess = np.where(size > 0.0, sense * (np.where(shut, 0.0, law) - edge), 0.0) - wanted
        if (np.abs(excess) <= 1e-10 * wanted + 1e-9).all():
            break
        most = np.where(excess > 0.0, size, most)
        least = np.where(excess > 0.0, least, size)
        following = size - excess / slope
        inside = (following > least) & (following < most)
        size = np.where(inside, following, 0.5 * (least + most))
    return sense * size, slope, shut
