"""Pressures at the free nodes when every branch is taken as linear, in batch.

Branches are conductances: flow = conductance (p_start - p_end) + given. Free nodes are eliminated
by joining their neighbours directly (star to mesh). Nothing is ever subtracted from a
conductance, so a branch that leaks a thousand million times less than its neighbours keeps all
its digits, and no pivots are needed.
"""

import numpy as np

from plumbing.hydraulics import sparse
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.elimination import Plan, plan
from plumbing.hydraulics.topology import topology
from plumbing.physics.arrays import Array

LARGE = 400  # nodes; above it sparse matrices are faster, and keep fewer digits


def node_pressures(
    circuit: Circuit, conductance: Array, given: Array, demand: Array, fixed: Array
) -> Array:
    """Pressure at every node.

    Parameters
    ----------
    circuit : Circuit
        The network.
    conductance : Array
        Of each branch, positive, shape (S, B) [m3/s/Pa].
    given : Array
        Flow of each branch without a difference in pressure, shape (S, B) [m3/s].
    demand : Array
        Flow drawn out at each node, shape (S, N) [m3/s].
    fixed : Array
        Pressure where it is fixed, shape (S, N) [Pa].

    Returns
    -------
    Array
        Pressure, shape (S, N) [Pa]; 0 where nothing joins a node to a fixed pressure.
    """
    shape = topology(circuit)
    result = np.where(circuit.fixed, fixed, np.zeros(demand.shape))
    if not len(shape.free):
        return result
    outside = result[:, circuit.start] + result[:, circuit.end]  # only one of them can count
    if len(circuit.nodes) > LARGE:
        result[:, shape.free] = sparse.pressures(circuit, conductance, given, demand, outside)
        return result
    order = plan(circuit)
    g = np.ascontiguousarray(conductance.T)
    right = order.into @ given.T + order.grounded @ (g * outside.T) - demand[:, shape.free].T
    result[:, shape.free] = _eliminate(order, order.pairs @ g, order.grounded @ g, right).T
    return result


def _eliminate(order: Plan, link: Array, ground: Array, right: Array) -> Array:
    """Pressures from conductances (links, S) and (n, S) and inflows (n, S), all overwritten."""
    parts = []
    for stage in order.stages:
        spokes = link[stage.links]
        total = spokes.sum(axis=1) + ground[stage.nodes]
        total[total == 0.0] = np.inf  # joined to nothing: pressure 0
        part = spokes / total[:, None]
        link[stage.joins] += part[:, stage.first] * spokes[:, stage.second]
        ground[stage.others] += part * ground[stage.nodes, None]
        right[stage.others] += part * right[stage.nodes, None]
        right[stage.nodes] /= total
        parts.append(part)
    for stage, part in zip(reversed(order.stages), reversed(parts), strict=True):
        right[stage.nodes] += (part * right[stage.others]).sum(axis=1)
    return right
