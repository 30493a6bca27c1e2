"""Large circuits: the same linear systems with sparse matrices, one scenario after another.

The sparse library is loaded only here, when a circuit is large enough to need it.
"""

from contextlib import suppress
from functools import lru_cache
from typing import Any

import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.topology import topology
from plumbing.physics.arrays import Array, Flags, Indices

LARGE = 60  # nodes; below it whole batches of full matrices are faster


def pressures(circuit: Circuit, conductance: Array, given: Array, demand: Array) -> Array:
    """Pressure at the free nodes, shape (R, free, S) [Pa]; arguments as in `nodal`.

    Where all digits are lost it is left at 0, which the laws will then be found to miss.
    """
    from scipy.sparse.linalg import splu  # only for large circuits

    nodal = _nodal(circuit)
    right = np.stack([nodal.into @ flows for flows in given], axis=1)  # (free, R, S)
    right[:, 0] -= demand[topology(circuit).free]
    values = np.ascontiguousarray((nodal.gather @ conductance).T)
    middle = values[:, nodal.diagonal]
    values[:, nodal.diagonal] = np.where(middle == 0.0, 1.0, middle)  # joined to nothing
    matrix, result = nodal.pattern.copy(), np.zeros(right.shape)
    for scenario, value in enumerate(values):
        matrix.data = value
        with suppress(RuntimeError):  # raised for a singular matrix
            factors = splu(matrix, permc_spec="MMD_AT_PLUS_A", options={"SymmetricMode": True})
            result[:, :, scenario] = factors.solve(right[:, :, scenario])
    return result.transpose(1, 0, 2)


@frozen(eq=False)
class _Nodal:
    """What makes up the nodal matrix of a circuit, as sparse matrices.

    Attributes
    ----------
    into : csr_array
        +1 where a branch ends at a free node, -1 where it starts, shape (free, B).
    pattern : csc_array
        The nodal matrix without its values, shape (free, free).
    gather : csr_array
        What each conductance adds to each of the values, shape (values, B).
    diagonal : Indices
        Which of the values lie on the diagonal, shape (free,).
    """

    into: Any
    pattern: Any
    gather: Any
    diagonal: Indices


@lru_cache(maxsize=16)
def _nodal(circuit: Circuit) -> _Nodal:
    """The nodal matrix in parts that do not change with the flow."""
    from scipy.sparse import csc_array, csr_array

    shape = topology(circuit)
    count, branches = len(shape.free), len(circuit.branches)
    start, end = shape.row[circuit.start], shape.row[circuit.end]
    starts, ends = np.flatnonzero(start < count), np.flatnonzero(end < count)
    both = np.flatnonzero((start < count) & (end < count))
    nodes = np.arange(count)
    rows = np.concatenate([start[starts], end[ends], start[both], end[both], nodes])
    columns = np.concatenate([start[starts], end[ends], end[both], start[both], nodes])
    branch = np.concatenate([starts, ends, both, both, np.zeros(count, dtype=np.intp)])
    sign = np.repeat([1.0, -1.0, 0.0], [len(starts) + len(ends), 2 * len(both), count])
    # The matrix keeps its values column by column; a place is counted in that order.
    place, value = np.unique(columns * count + rows, return_inverse=True)
    return _Nodal(
        into=csr_array(
            (
                np.repeat([1.0, -1.0], [len(ends), len(starts)]),
                (np.concatenate([end[ends], start[starts]]), np.concatenate([ends, starts])),
            ),
            shape=(count, branches),
        ),
        pattern=csc_array(
            (np.ones(len(place)), (place % count, place // count)), shape=(count, count)
        ),
        gather=csr_array((sign, (value.ravel(), branch)), shape=(len(place), branches)),
        diagonal=np.searchsorted(place, nodes * count + nodes),
    )


def mixed(circuit: Circuit, flow: Array, share: Array, resting: Array) -> Array:
    """Share at the mixing nodes, shape (S, mixing) [-]; arguments as in `junction_mixing`."""
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
