"""The fuel network as frozen, named arrays: what the solver reads."""

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from plumbing.errors import SolveError
from plumbing.hydraulics.elements import BoreChanges, Filters, Fittings, Tubes, faults_of
from plumbing.physics.arrays import Array, Flags, Indices


@dataclass(frozen=True, slots=True, eq=False)
class Circuit:
    """Nodes, branches between them, and the elements along each branch.

    A branch is a whole run of elements between two nodes at which flow can divide or be stored;
    joints of two lines lie inside a branch. Flow is counted positive from `start` to `end`.

    Attributes
    ----------
    nodes : tuple of str
        Names, for messages; N of them.
    fixed : Flags
        Nodes whose pressure is given (outside openings), shape (N,).
    mixing : Flags
        Nodes that pass on the mix of what flows in (junctions, pump inlets), shape (N,). The
        others (tanks, outside openings) deliver at each port what the conditions say.
    branches : tuple of str
        Names, for messages; B of them.
    start, end : Indices
        Node at either end of each branch, shape (B,).
    points : Array
        Position of both ends of each branch, shape (B, 2, 3) [m].
    elements : tuple of str
        Names in flow order from start to end, branch after branch; E of them.
    element_branch : Indices
        Branch of each element, rising, shape (E,).
    tubes, fittings, bore_changes, filters
        The elements by kind; each element belongs to one kind.
    """

    nodes: tuple[str, ...]
    fixed: Flags
    mixing: Flags
    branches: tuple[str, ...]
    start: Indices
    end: Indices
    points: Array
    elements: tuple[str, ...]
    element_branch: Indices
    tubes: Tubes = field(default_factory=Tubes)
    fittings: Fittings = field(default_factory=Fittings)
    bore_changes: BoreChanges = field(default_factory=BoreChanges)
    filters: Filters = field(default_factory=Filters)

    def __post_init__(self) -> None:
        wrong = next(_faults(self), None)
        if wrong:
            raise SolveError(f"the network cannot be solved: {wrong}")

    def branch_of(self, element: Indices) -> Indices:
        """Branch of each element given by its place, same shape."""
        return self.element_branch[element]


def _faults(circuit: Circuit) -> Iterator[str]:
    """Yield what is wrong with the arrays, in words."""
    nodes, branches, elements = len(circuit.nodes), len(circuit.branches), len(circuit.elements)
    shapes = {
        "fixed": (circuit.fixed, (nodes,)),
        "mixing": (circuit.mixing, (nodes,)),
        "start": (circuit.start, (branches,)),
        "end": (circuit.end, (branches,)),
        "points": (circuit.points, (branches, 2, 3)),
        "element_branch": (circuit.element_branch, (elements,)),
    }
    for name, (array, shape) in shapes.items():
        if array.shape != shape:
            yield f"{name} has shape {array.shape}, expected {shape}"
            return
    if not branches:
        yield "it has no branches"
        return
    ends = np.concatenate([circuit.start, circuit.end])
    if ends.min() < 0 or ends.max() >= nodes:
        yield "a branch ends at a node that does not exist"
    for branch in np.flatnonzero(circuit.start == circuit.end):
        yield f"branch {circuit.branches[branch]} starts and ends at the same node"
    for node in np.flatnonzero(circuit.fixed & circuit.mixing):
        yield f"{circuit.nodes[node]} is both an outside opening and a junction"
    if not np.isfinite(circuit.points).all():
        yield "a branch end has no finite position"
    owner = circuit.element_branch
    if elements and (owner.min() < 0 or owner.max() >= branches or (np.diff(owner) < 0).any()):
        yield "elements are not listed branch after branch"
    for kind in (circuit.tubes, circuit.fittings, circuit.bore_changes, circuit.filters):
        yield from faults_of(kind, elements)
