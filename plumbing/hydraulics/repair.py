"""Continuity to the last digits: rounding of pressures and the leak of shut branches taken out."""

import numpy as np

from plumbing.hydraulics.newton import State
from plumbing.hydraulics.nodal import node_pressures
from plumbing.hydraulics.problem import Problem, continuity, flow_scale
from plumbing.physics.arrays import Flags

ENOUGH = 1e-11  # [-] imbalance left alone, of the largest flow
STILL = 1e-10  # [-] smaller flows, of the largest, are what shut branches leak: nothing flows


def repair(problem: Problem, state: State) -> State:
    """Stop what barely moves, and send what is missing at nodes along the branches that flow."""
    scale = flow_scale(state.flow, problem.demand)
    state.flow[np.abs(state.flow) <= STILL * scale[:, None]] = 0.0
    missing = continuity(problem.circuit, state.flow, problem.demand)
    which = np.abs(missing).max(axis=1) > ENOUGH * scale
    if which.any():
        _balance(problem, state, which)
    return state


def _balance(problem: Problem, state: State, which: Flags) -> None:
    """Repair some scenarios, in place; in proportion to the ease of each branch."""
    part, some = problem.rows(which), state.rows(which)
    moves = some.flow != 0.0
    _, slope = part.law(some.flow)
    conductance = np.where(moves, 1.0 / slope, part.leak)
    nothing = np.zeros_like(slope)
    for _ in range(2):
        missing = continuity(part.circuit, some.flow, part.demand)
        excess = node_pressures(part.circuit, conductance, nothing, -missing, 0.0 * missing)
        some.flow += np.where(moves, conductance * part.across(excess), 0.0)
    state.put(np.flatnonzero(which), some)
