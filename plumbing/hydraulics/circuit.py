"""The fuel network as frozen, named arrays, kind of element by kind: what the solver reads."""

from collections.abc import Iterator
from dataclasses import field, fields

import numpy as np

from plumbing.errors import SolveError
from plumbing.frozen import frozen
from plumbing.physics.arrays import Array, Flags, Indices

NO_INDICES: Indices = np.zeros(0, dtype=np.intp)
NONE: Array = np.zeros(0)


@frozen(eq=False)
class Tubes:
    """Tubes, each of one bore.

    Attributes
    ----------
    element : Indices
        Place of each tube in the circuit's list of elements, rising, shape (tubes,).
    length : Array
        Length along the axis, shape (tubes,) [m].
    bore : Array
        Inside diameter, shape (tubes,) [m].
    roughness : Array
        Wall roughness height, shape (tubes,) [m].
    entry : Array
        Added loss of a flow that is still developing, in velocity heads, shape (tubes,) [-];
        0 where the flow arrives developed.
    bend_length : Array
        Part of the length that is curved, shape (tubes,) [m].
    coil : Array
        Diameter of the curve's centre line, shape (tubes,) [m]; not read where nothing is curved.
    """

    element: Indices = field(default_factory=lambda: NO_INDICES)
    length: Array = field(default_factory=lambda: NONE)
    bore: Array = field(default_factory=lambda: NONE)
    roughness: Array = field(default_factory=lambda: NONE)
    entry: Array = field(default_factory=lambda: NONE)
    bend_length: Array = field(default_factory=lambda: NONE)
    coil: Array = field(default_factory=lambda: NONE)


@frozen(eq=False)
class Fittings:
    """Elbows, tees, valves, entrances: loss (k1 / Re + k_inf) velocity heads in their bore.

    Attributes
    ----------
    element : Indices
        Place of each fitting in the circuit's list of elements, rising, shape (fittings,).
    k1 : Array
        Loss coefficient at Re = 1, shape (fittings,) [-].
    k_inf_low, k_inf_high : Array
        Loss coefficient at large Re, low and high bound, shape (fittings,) [-].
    bore : Array
        Bore the coefficients refer to, shape (fittings,) [m].
    """

    element: Indices = field(default_factory=lambda: NO_INDICES)
    k1: Array = field(default_factory=lambda: NONE)
    k_inf_low: Array = field(default_factory=lambda: NONE)
    k_inf_high: Array = field(default_factory=lambda: NONE)
    bore: Array = field(default_factory=lambda: NONE)


@frozen(eq=False)
class BoreChanges:
    """Sudden changes of bore, each a contraction one way and an expansion the other.

    Attributes
    ----------
    element : Indices
        Place of each change in the circuit's list of elements, rising, shape (changes,).
    before, after : Array
        Bore on the side of the branch's start and of its end, shape (changes,) [m].
    """

    element: Indices = field(default_factory=lambda: NO_INDICES)
    before: Array = field(default_factory=lambda: NONE)
    after: Array = field(default_factory=lambda: NONE)


@frozen(eq=False)
class Filters:
    """Filters, fine-pore pickups and other parts with a pressure-flow law of their own.

    Loss = dirt (linear mu q + quadratic rho q |q|), dirt being given with the conditions.

    Attributes
    ----------
    element : Indices
        Place of each filter in the circuit's list of elements, rising, shape (filters,).
    linear : Array
        Clean drop over viscosity and flow, shape (filters,) [1/m3].
    quadratic : Array
        Clean drop over density and flow squared, shape (filters,) [1/m4].
    """

    element: Indices = field(default_factory=lambda: NO_INDICES)
    linear: Array = field(default_factory=lambda: NONE)
    quadratic: Array = field(default_factory=lambda: NONE)


POSITIVE = ("bore", "before", "after", "length")  # must not be zero
Kind = Tubes | Fittings | BoreChanges | Filters


def faults_of(kind: Kind, elements: int) -> Iterator[str]:
    """Yield what is wrong with one kind's arrays in a circuit of so many elements, in words."""
    count = len(kind.element)
    name = type(kind).__name__
    if count and (kind.element.min() < 0 or kind.element.max() >= elements):
        yield f"{name} name an element that does not exist"
    if (np.diff(kind.element) <= 0).any():
        yield f"{name} are not listed in rising order"
    for entry in fields(kind)[1:]:
        values: Array = getattr(kind, entry.name)
        if values.shape != (count,):
            yield f"{name}.{entry.name} has shape {values.shape}, expected {(count,)}"
        elif entry.name == "coil":
            if not (values[kind.bend_length > 0.0] > 0.0).all():  # type: ignore[union-attr]
                yield f"{name}.coil is not positive where the tube is curved"
        elif not np.isfinite(values).all() or (values < 0.0).any():
            yield f"{name}.{entry.name} holds a negative or missing value"
        elif entry.name in POSITIVE and (values == 0.0).any():
            yield f"{name}.{entry.name} holds a zero"


@frozen(eq=False)
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
