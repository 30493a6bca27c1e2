"""Large circuits: the same linear systems with sparse matrices, one scenario after another.

The sparse library is loaded only here, when a circuit is large enough to need it.
"""

from functools import lru_cache
from typing import Any

import numpy as np

from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.topology import topology
from plumbing.physics.arrays import Array, Flags, Indices

LARGE = 60  # nodes; below it eliminating whole batches at once is faster


def pressures(
    circuit: Circuit, conductance: Array, given: Array, demand: Array, outside: Array
) -> Array:
    """Pressure at the free nodes, shape (S, free) [Pa]; arguments as in `nodal`."""
    shape = topology(circuit)
    into, grounded = _incidence(circuit)
    result = np.zeros((len(conductance), len(shape.free)))
    right = (into @ given.T + grounded @ (conductance * outside).T).T - demand[:, shape.free]
    for scenario, g in enumerate(conductance):
        result[scenario] = _laplacian(circuit, g).solve(right[scenario])
    return result


@lru_cache(maxsize=16)
def _incidence(circuit: Circuit) -> tuple[Any, Any]:
    """Signed incidence (free, B) and the incidence of branches with one fixed end (free, B)."""
    from scipy.sparse import csr_array  # only for large circuits

    shape = topology(circuit)
    count, branches = len(shape.free), len(circuit.branches)
    start, end = shape.row[circuit.start], shape.row[circuit.end]
    each = np.arange(branches)

    def build(keep_start: Flags, keep_end: Flags, sign: float) -> Any:
        rows = np.concatenate([end[keep_end], start[keep_start]])
        columns = np.concatenate([each[keep_end], each[keep_start]])
        values = np.concatenate([np.ones(keep_end.sum()), sign * np.ones(keep_start.sum())])
        return csr_array((values, (rows, columns)), shape=(count, branches))

    starts, ends = start < count, end < count
    return build(starts, ends, -1.0), build(starts & ~ends, ends & ~starts, 1.0)


def _laplacian(circuit: Circuit, conductance: Array) -> Any:
    """Factors of the nodal matrix."""
    from scipy.sparse import csc_array, diags_array
    from scipy.sparse.linalg import splu

    into, _ = _incidence(circuit)
    matrix = into @ diags_array(conductance) @ into.T
    loose = matrix.diagonal() == 0.0
    matrix = csc_array(matrix + diags_array(loose.astype(float)))
    return splu(matrix, permc_spec="MMD_AT_PLUS_A", options={"SymmetricMode": True})


def mixed(circuit: Circuit, flow: Array, share: Array, resting: Array) -> Array:
    """Liquid share at the mixing nodes, shape (S, mixing) [-]; arguments as in `mixing`."""
    from scipy.sparse import csc_array
    from scipy.sparse.linalg import splu

    nodes = topology(circuit).mixing
    place = np.full(len(circuit.nodes), -1, dtype=np.intp)
    place[nodes] = np.arange(len(nodes))
    result = np.zeros(resting.shape)
    for scenario, (q, delivered) in enumerate(zip(flow, share, strict=True)):
        forward = q > 0.0
        source = place[np.where(forward, circuit.start, circuit.end)]
        target = place[np.where(forward, circuit.end, circuit.start)]
        size = np.where(target >= 0, np.abs(q), 0.0)
        inflow = np.bincount(np.maximum(target, 0), size, minlength=len(nodes))
        held = np.where(inflow > 0.0, 1e-15 * inflow, 1.0)
        known = np.where(source < 0, np.where(forward, delivered[:, 0], delivered[:, 1]), 0.0)
        right = np.bincount(np.maximum(target, 0), size * known, minlength=len(nodes))
        inner = (source >= 0) & (target >= 0)
        each = np.arange(len(nodes))
        rows = np.concatenate([each, target[inner]])
        columns = np.concatenate([each, source[inner]])
        values = np.concatenate([inflow + held, -size[inner]])
        matrix = csc_array((values, (rows, columns)), shape=(len(nodes), len(nodes)))
        result[scenario] = splu(matrix).solve(right + held * resting[scenario])
    return result


def spread(circuit: Circuit, forward: Flags, backward: Flags) -> Flags:
    """Nodes met when setting out from fixed nodes, shape (rows of `forward`, N)."""
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import breadth_first_order

    count = len(circuit.nodes)
    fixed = np.flatnonzero(circuit.fixed)
    met = np.zeros((len(forward), count), dtype=bool)
    source: Indices = np.full(len(fixed), count)
    for row, (with_flow, against_flow) in enumerate(zip(forward, backward, strict=True)):
        tails = [source, circuit.start[with_flow], circuit.end[against_flow]]
        heads = [fixed, circuit.end[with_flow], circuit.start[against_flow]]
        ends = np.concatenate(tails), np.concatenate(heads)
        graph = csr_array((np.ones(len(ends[0])), ends), shape=(count + 1, count + 1))
        order = breadth_first_order(graph, count, return_predecessors=False)
        met[row, order[order < count]] = True
    return met
