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


def node_pressures(circuit: Circuit, conductance: Array, given: Array, demand: Array) -> Array:
    """Pressures at which volume is conserved at every free node, for R right sides at once.

    Parameters
    ----------
    circuit : Circuit
        The network.
    conductance : Array
        Of each branch, positive, shape (B, S) [m3/s/Pa].
    given : Array
        Flow of each branch without a difference in pressure, shape (R, B, S) [m3/s].
    demand : Array
        Flow drawn out at each node on the first right side, shape (N, S) [m3/s].

    Returns
    -------
    Array
        Pressure, 0 at fixed nodes and where nothing joins a node to one, shape (R, N, S) [Pa].
    """
    shape = topology(circuit)
    result = np.zeros((len(given), len(circuit.nodes), conductance.shape[1]))
    if not len(shape.free):
        return result
    if len(circuit.nodes) > LARGE:
        result[:, shape.free] = sparse.pressures(circuit, conductance, given, demand)
        return result
    order = plan(circuit)
    right = np.stack([order.into @ flows for flows in given], axis=1)
    right[:, 0] -= demand[shape.free]
    link, ground = order.pairs @ conductance, order.grounded @ conductance
    result[:, shape.free] = _eliminate(order, link, ground, right).transpose(1, 0, 2)
    return result


def _eliminate(order: Plan, link: Array, ground: Array, right: Array) -> Array:
    """Pressures (n, R, S) from conductances (links, S), (n, S), inflows (n, R, S); overwritten."""
    parts = []
    for stage in order.stages:
        spokes = link[stage.links]
        total = spokes.sum(axis=1) + ground[stage.nodes]
        total[total == 0.0] = np.inf  # joined to nothing: pressure 0
        part = spokes / total[:, None]
        link[stage.joins] += part[:, stage.first] * spokes[:, stage.second]
        ground[stage.others] += part * ground[stage.nodes, None]
        right[stage.others] += part[:, :, None] * right[stage.nodes, None]
        right[stage.nodes] /= total[:, None]
        parts.append(part)
    for stage, part in zip(reversed(order.stages), reversed(parts), strict=True):
        right[stage.nodes] += (part[:, :, None] * right[stage.others]).sum(axis=1)
    return right
