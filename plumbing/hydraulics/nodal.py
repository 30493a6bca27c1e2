"""Pressures at the free nodes when every branch is taken as linear, in batch.

Branches are conductances: flow = conductance (p_start - p_end) + given. Free nodes are eliminated
one by one by joining their neighbours directly (star to mesh). Nothing is ever subtracted from a
conductance, so a branch that leaks a thousand million times less than its neighbours keeps all
its digits, and no pivots are needed.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from plumbing.hydraulics import sparse
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.topology import topology
from plumbing.physics.arrays import Array


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
    if len(circuit.nodes) > sparse.LARGE:
        result[:, shape.free] = sparse.pressures(circuit, conductance, given, demand, outside)
        return result
    joint = _joints(circuit)
    g = np.ascontiguousarray(conductance.T)
    count, scenarios = len(shape.free), len(conductance)
    mesh = (joint.pairs @ g).reshape(count, count, scenarios)
    right = joint.into @ given.T + joint.grounded @ (g * outside.T) - demand[:, shape.free].T
    result[:, shape.free] = _eliminate(mesh, joint.grounded @ g, right).T
    return result


@dataclass(frozen=True, slots=True, eq=False)
class _Joints:
    """How branches join `free` nodes; all of shape (rows, B), of zeros, ones and minus ones."""

    pairs: Array  # (free * free): both nodes are free
    grounded: Array  # (free): the other end is fixed
    into: Array  # (free): +1 where the branch ends, -1 where it starts


@lru_cache(maxsize=64)
def _joints(circuit: Circuit) -> _Joints:
    """Sums over branches as matrices."""
    shape = topology(circuit)
    count, branches = len(shape.free), len(circuit.branches)
    start, end = shape.row[circuit.start], shape.row[circuit.end]
    pairs = np.zeros((count + 1, count + 1, branches))
    into = np.zeros((count + 1, branches))
    each = np.arange(branches)
    pairs[start, end, each] = pairs[end, start, each] = 1.0
    into[end, each] += 1.0
    into[start, each] -= 1.0
    inner = np.ascontiguousarray(pairs[:count, :count]).reshape(count * count, branches)
    return _Joints(inner, np.ascontiguousarray(pairs[:count, count]), into[:count].copy())


def _eliminate(mesh: Array, ground: Array, right: Array) -> Array:
    """Pressures from conductances (n, n, S) and (n, S) and inflows (n, S), all overwritten."""
    count = len(ground)
    for node in range(count):
        later = slice(node + 1, count)
        row = mesh[node, later]
        total = row.sum(axis=0) + ground[node]
        total[total == 0.0] = np.inf  # joined to nothing: pressure 0
        part = row / total
        mesh[later, later] += part[:, None] * row
        ground[later] += part * ground[node]
        right[later] += part * right[node]
        right[node] /= total
        row[...] = part
    for node in range(count - 2, -1, -1):
        later = slice(node + 1, count)
        right[node] += (mesh[node, later] * right[later]).sum(axis=0)
    return right
