"""Circuits without loops: flows follow from the demands, pressures from the flows."""

import numpy as np

from plumbing.hydraulics.branch_laws import pose
from plumbing.hydraulics.mixing import passed_on
from plumbing.hydraulics.newton import State
from plumbing.hydraulics.problem import Problem
from plumbing.hydraulics.topology import topology


def solve_tree(problem: Problem) -> State:
    """Solve exactly, without iterating.

    A branch without flow that can stand still at a range of pressures takes the difference
    nearest to zero.
    """
    shape = topology(problem.circuit)
    assert shape.paths is not None
    flow = shape.paths.T @ problem.demand[shape.free]
    share = passed_on(problem, flow, problem.resting)
    none = np.zeros(flow.shape, dtype=bool)
    laws = pose(problem, share, flow, none)
    across = np.where(flow == 0.0, laws.rest, laws.at(flow).across)
    pressure = np.zeros(share.shape) + problem.fixed_pressure
    pressure[shape.free] = pressure[shape.root] - shape.paths @ across
    unmet = np.abs(problem.across(pressure) - across).max(axis=0)
    turns = np.zeros(flow.shape, dtype=np.intp)
    solves = np.ones(len(unmet), dtype=np.intp)
    return State(flow, none, none, turns, pressure, share, unmet, solves)
