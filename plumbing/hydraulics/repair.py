"""Continuity to the last digits: rounding of pressures and the leak of shut branches taken out."""

import numpy as np

from plumbing.hydraulics.newton import State
from plumbing.hydraulics.nodal import node_pressures
from plumbing.hydraulics.problem import Problem, continuity, flow_scale
from plumbing.physics.arrays import Array

ENOUGH = 1e-11  # [-] imbalance left alone, of the largest flow
STILL = 1e-10  # [-] smaller flows, of the largest, are rounding: nothing flows
PASSES = 3  # each may stop some more branches
LEAKING = 3e4  # [Pa] what a shut branch leaks under this pressure is nothing either


def repair(problem: Problem, state: State) -> State:
    """Stop what barely moves, and send what is missing at nodes along the branches that flow."""
    scale = flow_scale(state.flow, problem.demand)
    still = np.maximum(STILL * scale[:, None], LEAKING * problem.leak)
    creeps = (np.abs(state.flow) <= still) & (state.flow != 0.0)
    flow = np.where(creeps, 0.0, state.flow)
    missing = continuity(problem.circuit, flow, problem.demand)
    unbalanced = np.abs(missing).max(axis=1) > ENOUGH * scale
    which = unbalanced | creeps.any(axis=1)
    if not which.any():
        return state
    part, some = problem.rows(which), state.rows(which)
    some.flow = _balanced(part, flow[which], still[which], ENOUGH * scale[which])
    some.unmet = part.missed(some.flow, some.pressure)
    state.put(np.flatnonzero(which), some)
    return state


def _balanced(problem: Problem, flow: Array, still: Array, enough: Array) -> Array:
    """Flows changed where something flows, in proportion to its ease, shape (S, B) [m3/s]."""
    _, slope = problem.law(flow)
    for _ in range(PASSES):
        missing = continuity(problem.circuit, flow, problem.demand)
        if (np.abs(missing).max(axis=1) <= enough).all():
            break
        moves = flow != 0.0
        conductance = np.where(moves, 1.0 / slope, problem.leak)
        excess = node_pressures(problem.circuit, conductance, 0.0 * flow, -missing, 0.0 * missing)
        changed = flow + np.where(moves, conductance * problem.across(excess), 0.0)
        stops = (changed * flow <= 0.0) | (np.abs(changed) <= still)
        flow = np.where(stops, 0.0, changed)
    return flow
