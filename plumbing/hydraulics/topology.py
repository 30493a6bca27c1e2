"""What follows from the shape of a circuit alone, worked out once for every solve."""

from functools import lru_cache

import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics.circuit import Circuit
from plumbing.physics.arrays import Array, Flags, Indices

DENSE = 4000  # nodes times branches up to which one product is quicker than sums by place


@frozen(eq=False)
class Topology:
    """Numbering of the free nodes, and paths if the circuit is a tree.

    Attributes
    ----------
    free : Indices
        Free nodes, shape (free,).
    row : Indices
        Row of each node's equation; all fixed nodes share the last, shape (N,).
    mixing : Indices
        Mixing nodes, shape (mixing,).
    ends : Indices
        Node at the start and the end of each branch, shape (B, 2).
    into : Array
        +1 where a branch ends at a node, -1 where it starts, shape (N, B); without rows for a large
        circuit, in which such a matrix is nearly empty.
    mixing_end : Flags
        Whether each branch end is at a mixing node, shape (B, 2).
    paths : Array or None
        For a tree, +1 where the way from the outside to a free node runs along a branch, -1 where
        against it, shape (free, B); None if flow can go round a loop.
    root : Indices
        For a tree, the fixed node that each free node's way starts from, shape (free,).
    """

    free: Indices
    row: Indices
    mixing: Indices
    ends: Indices
    into: Array
    mixing_end: Flags
    paths: Array | None
    root: Indices


@lru_cache(maxsize=64)
def topology(circuit: Circuit) -> Topology:
    """Numbering and paths of a circuit."""
    free = np.flatnonzero(~circuit.fixed)
    row = np.full(len(circuit.nodes), len(free), dtype=np.intp)
    row[free] = np.arange(len(free))
    ends = np.stack([circuit.start, circuit.end], axis=-1)
    paths, root = _tree(circuit, free, row)
    into = np.zeros((0, len(ends)))
    if len(circuit.nodes) * len(ends) <= DENSE:
        node = np.arange(len(circuit.nodes))[:, None]
        into = (circuit.end == node).astype(float) - (circuit.start == node)
    mixing = np.flatnonzero(circuit.mixing)
    return Topology(free, row, mixing, ends, into, circuit.mixing[ends], paths, root)


def _tree(circuit: Circuit, free: Indices, row: Indices) -> tuple[Array | None, Indices]:
    """Paths and roots, if every free node is joined to the outside in exactly one way."""
    nowhere = np.zeros(0, dtype=np.intp)
    branches = len(circuit.branches)
    if branches != len(free) or branches > 400:
        return None, nowhere
    at_node: list[list[tuple[int, int, float]]] = [[] for _ in circuit.nodes]
    for branch, (start, end) in enumerate(zip(circuit.start, circuit.end, strict=True)):
        at_node[start].append((branch, int(end), 1.0))
        at_node[end].append((branch, int(start), -1.0))
    paths = np.zeros((len(free) + 1, branches))
    root = np.full(len(circuit.nodes), -1, dtype=np.intp)
    root[circuit.fixed] = np.flatnonzero(circuit.fixed)
    waiting = [int(node) for node in np.flatnonzero(circuit.fixed)]
    while waiting:
        node = waiting.pop()
        for branch, other, sense in at_node[node]:
            if root[other] < 0:
                root[other] = root[node]
                paths[row[other]] = paths[row[node]]
                paths[row[other], branch] = sense
                waiting.append(other)
    if (root < 0).any():
        return None, nowhere
    return paths[:-1], root[free]
