"""Circuits without loops: flows follow from the demands, pressures from the flows."""

import numpy as np

from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.contents import contents, end_share
from plumbing.hydraulics.found import Found
from plumbing.hydraulics.mixing import mixed
from plumbing.hydraulics.problem import Problem, standing
from plumbing.hydraulics.topology import topology
from plumbing.physics.arrays import Array


def solve_tree(circuit: Circuit, conditions: Conditions, demand: Array) -> Found:
    """Solve exactly, without iterating; `demand` has shape (S, N) [m3/s].

    A branch without flow that can stand still at a range of pressures takes the difference
    nearest to nothing.
    """
    shape = topology(circuit)
    assert shape.paths is not None
    flow = demand[:, shape.free] @ shape.paths
    given = end_share(circuit, conditions, conditions.resting, len(flow))
    node_share = mixed(circuit, flow, given, conditions.resting)
    ends = end_share(circuit, conditions, node_share, len(flow))
    held = contents(circuit, conditions, ends)
    low, high = standing(held, flow)
    still = np.zeros((len(flow), 1))
    problem = Problem(circuit, conditions, held, low, high, demand, still)
    across = np.where(flow == 0.0, problem.rest, problem.law(flow)[0])
    pressure = np.array(np.broadcast_to(conditions.fixed_pressure, node_share.shape))
    pressure[:, shape.free] = pressure[:, shape.root] - across @ shape.paths.T
    missed = np.abs(problem.across(pressure) - across).max(axis=1)
    return Found(flow, pressure, node_share, ends, missed, 1)
