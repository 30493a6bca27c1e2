"""Pressures at the free nodes when every branch is taken as linear, in batch.

Branches are conductances: flow = conductance (p_start - p_end) + given. Free nodes are eliminated
by joining their neighbours directly (star to mesh), those with few neighbours first, and all at
once that have as many and none in common: a network of tubes and tees, however large, is done in
a few stages of whole arrays, planned once for every circuit. Nothing is ever subtracted from a
conductance, so a branch that leaks a thousand million times less than its neighbours keeps all
its digits, and no pivots are needed.
"""

from collections.abc import Iterable
from functools import lru_cache
from itertools import combinations

import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics import sparse
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.topology import topology
from plumbing.physics.arrays import Array, Indices

Pair = tuple[int, int]


@frozen(eq=False)
class Stage:
    """k nodes with d neighbours each, none of them shared, eliminated together.

    Attributes
    ----------
    nodes : Indices
        Shape (k,).
    others : Indices
        Their neighbours, shape (k, d).
    links : Indices
        Links to these, shape (k, d).
    first, second : Indices
        Every pair of neighbours, by place among the d, shape (pairs,).
    joins : Indices
        Link between the two, shape (k, pairs).
    """

    nodes: Indices
    others: Indices
    links: Indices
    first: Indices
    second: Indices
    joins: Indices


@frozen(eq=False)
class Plan:
    """Stages of the elimination, and how branches make up the links between free nodes.

    Attributes
    ----------
    stages : tuple of Stage
        In the order of elimination.
    pairs : Array
        1 where a branch lies between the two nodes of a link, shape (links, B).
    grounded : Array
        1 where the other end of a branch is fixed, shape (free, B).
    into : Array
        +1 where a branch ends at a node, -1 where it starts, shape (free, B).
    """

    stages: tuple[Stage, ...]
    pairs: Array
    grounded: Array
    into: Array


@lru_cache(maxsize=64)
def plan(circuit: Circuit) -> Plan:
    """The order of elimination for a circuit."""
    shape = topology(circuit)
    count, branches = len(shape.free), len(circuit.branches)
    start, end = shape.row[circuit.start], shape.row[circuit.end]
    ends = list(zip(start, end, strict=True))
    between = dict.fromkeys(_pair(a, b) for a, b in ends if max(a, b) < count)
    links = {pair: number for number, pair in enumerate(between)}
    stages = tuple(_stages(count, links))
    pairs, grounded = np.zeros((len(links), branches)), np.zeros((count + 1, branches))
    into = np.zeros((count + 1, branches))
    for branch, (a, b) in enumerate(ends):
        into[b, branch] += 1.0
        into[a, branch] -= 1.0
        if _pair(a, b) in links:
            pairs[links[_pair(a, b)], branch] = 1.0
        elif a != b:
            grounded[min(a, b), branch] = 1.0
    return Plan(stages, pairs, grounded[:count].copy(), into[:count].copy())


def _stages(count: int, links: dict[Pair, int]) -> Iterable[Stage]:
    """Eliminate `count` nodes; links that come to be are added to `links`."""
    near: dict[int, set[int]] = {node: set() for node in range(count)}
    for a, b in links:
        near[a].add(b)
        near[b].add(a)
    while near:
        nodes = _together(near)
        others = [sorted(near[node]) for node in nodes]
        for node, joined in zip(nodes, others, strict=True):
            del near[node]
            for one in joined:
                near[one] |= set(joined) - {one}
                near[one].discard(node)
        couples = list(combinations(range(len(others[0])), 2))
        spokes = [[links[_pair(n, o)] for o in row] for n, row in zip(nodes, others, strict=True)]
        joins = [
            [links.setdefault(_pair(row[a], row[b]), len(links)) for a, b in couples]
            for row in others
        ]
        first, second = np.array(couples, dtype=np.intp).reshape(-1, 2).T
        yield Stage(_whole(nodes), _whole(others), _whole(spokes), first, second, _whole(joins))


def _together(near: dict[int, set[int]]) -> list[int]:
    """Nodes with equally many neighbours, none of them a neighbour of two or of another.

    They have two neighbours at most, which leaves fewer links than before, or the fewest there are.
    """
    fewest = min(len(joined) for joined in near.values())
    return max((_apart(near, count) for count in (0, 1, 2, fewest)), key=len)


def _apart(near: dict[int, set[int]], count: int) -> list[int]:
    """Nodes with `count` neighbours, none of them a neighbour of two or of another."""
    taken: set[int] = set()
    nodes = []
    for node, joined in near.items():
        if len(joined) == count and node not in taken and not joined & taken:
            nodes.append(node)
            taken |= joined | {node}
    return nodes


def _pair(a: int, b: int) -> Pair:
    return (int(min(a, b)), int(max(a, b)))


def _whole(rows: list[int] | list[list[int]]) -> Indices:
    return np.array(rows, dtype=np.intp)


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
