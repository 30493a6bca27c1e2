"""What junctions pass on: the mean of what flows in, weighted by flow, and how it changes."""

from functools import lru_cache

import numpy as np

from plumbing.hydraulics import sparse
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.problem import Problem
from plumbing.hydraulics.topology import topology
from plumbing.physics.arrays import Array, Flags, Indices, floats

HELD = 1e-10  # part of the inflow taken from what rests there, where a closed ring turns
PURE = 1e-14  # [-] as little of the other fluid is rounding
STILL = 2e-10  # flows below this part of the largest of the scenario are rounding, not flow


def mixed(circuit: Circuit, flow: Array, share: Array, resting: Array) -> Array:
    """Liquid share at every node, the mix of inflows at mixing nodes.

    Parameters
    ----------
    circuit : Circuit
        The network.
    flow : Array
        Flow from start to end of each branch, shape (S, B) [m3/s].
    share : Array
        What the other branch ends deliver, shape (S, B, 2) [-].
    resting : Array
        Share where nothing flows in, shape (S, N) [-].

    Returns
    -------
    Array
        Share, shape (S, N) [-]; `resting` where the node does not mix.
    """
    nodes = topology(circuit).mixing
    result = np.array(np.broadcast_to(resting, (len(flow), len(circuit.nodes))))
    if not len(nodes):
        return result
    if len(nodes) > sparse.LARGE:
        result[:, nodes] = sparse.mixed(circuit, flow, share, result[:, nodes])
    else:
        result[:, nodes] = _solve(circuit, flow, share, result[:, nodes])
    result[result < PURE] = 0.0
    result[result > 1.0 - PURE] = 1.0
    return result


def _solve(circuit: Circuit, flow: Array, share: Array, resting: Array) -> Array:
    """Balance of liquid at the mixing nodes, shape (S, mixing)."""
    into, known, between = _incidence(circuit)
    scenarios, count = resting.shape
    given = np.concatenate([np.maximum(flow, 0.0), np.maximum(-flow, 0.0)], axis=1)
    liquid = given * np.concatenate([share[:, :, 0], share[:, :, 1]], axis=1)
    inflow = given @ into
    if count == 1:
        return np.where(inflow > 0.0, liquid @ known / np.where(inflow > 0.0, inflow, 1.0), resting)
    passed = (given @ between).reshape(scenarios, count, count)
    fresh = _reached(given @ known > 0.0, passed > 0.0)
    held = np.where(fresh, 0.0, np.where(inflow > 0.0, HELD * inflow, 1.0))
    diagonal = np.arange(count)
    passed[:, diagonal, diagonal] -= inflow + held
    right = liquid @ known + held * resting
    return np.linalg.solve(-passed, right[:, :, None])[:, :, 0]


def _reached(fresh: Flags, passes: Flags) -> Flags:
    """Nodes that anything new flows into, from outside or by way of others, shape (S, mixing).

    In the rest nothing moves, or the same fluid goes round and round in a closed ring.
    """
    while True:
        more = fresh | (passes & fresh[:, None, :]).any(axis=2)
        if (more == fresh).all():
            return fresh
        fresh = more


@lru_cache(maxsize=64)
def _incidence(circuit: Circuit) -> tuple[Array, Array, Array]:
    """Where each branch's forward and then backward flow goes.

    `into` (2B, mixing) marks the node flowed into, `known` the same if the fluid comes from a
    node that does not mix, `between` (2B, mixing * mixing) the pair of nodes if it does.
    """
    nodes = topology(circuit).mixing
    place = np.full(len(circuit.nodes), -1, dtype=np.intp)
    place[nodes] = np.arange(len(nodes))
    source = place[np.concatenate([circuit.start, circuit.end])]
    target = place[np.concatenate([circuit.end, circuit.start])]
    into = (target[:, None] == np.arange(len(nodes))).astype(float)
    out_of = (source[:, None] == np.arange(len(nodes))).astype(float)
    between = (into[:, :, None] * out_of[:, None, :]).reshape(len(target), -1)
    return into, into * (source < 0)[:, None], between


def passed_on(problem: Problem, flow: Array, share: Array) -> Array:
    """Share that mixing nodes pass on, shape (N, S): the mix of what `flow` (B, S) brings.

    Nodes into which nothing flows keep their `share` (N, S).
    """
    flow = np.where(np.abs(flow) > STILL * problem.scale(flow), flow, 0.0)
    other = np.asarray(_unlike(problem, flow, share).any(axis=0))
    if not other.any():
        return share
    part, some, result = problem.rows(other), flow[:, other], share.copy()
    given = np.broadcast_to(part.share, (2, *some.shape)).T
    result[:, other] = mixed(problem.circuit, some.T, given, share[:, other].T).T
    return result


def arriving(problem: Problem, flow: Array, share: Array) -> Array:
    """Share that flows (B, S) bring to each node from its neighbours, shape (N, S).

    The neighbours pass on `share` (N, S): a fluid gets one branch further.
    """
    circuit = problem.circuit
    size = np.abs(flow)
    size[size <= STILL * problem.scale(flow)] = 0.0
    ends = problem.end_share(share)
    inflow, liquid = np.zeros(share.shape), np.zeros(share.shape)
    for node, into, brought in (
        (circuit.end, np.where(flow > 0.0, size, 0.0), ends[0]),
        (circuit.start, np.where(flow < 0.0, size, 0.0), ends[1]),
    ):
        np.add.at(inflow, node, into)
        np.add.at(liquid, node, into * brought)
    mixes = circuit.mixing[:, None] & (inflow > 0.0)
    return np.where(mixes, liquid / np.where(mixes, inflow, 1.0), share)


def _unlike(problem: Problem, flow: Array, share: Array) -> Flags:
    """Branches that bring a mixing node something else than it passes on, shape (B, S)."""
    circuit, there = problem.circuit, flow > 0.0
    ends = problem.end_share(share)
    brought = np.where(there, ends[0], ends[1])
    passed = np.where(there, share[circuit.end], share[circuit.start])
    mixes = np.where(there, circuit.mixing[circuit.end, None], circuit.mixing[circuit.start, None])
    return np.asarray((flow != 0.0) & mixes & (brought != passed))


def changing(problem: Problem, flow: Array, share: Array) -> Indices:
    """Mixing nodes whose share changes with the flows in any scenario, shape (K,).

    Those that different fluids flow into, and all that these pass it on to.
    """
    circuit = problem.circuit
    forward, backward = flow > 0.0, flow < 0.0
    unlike = _unlike(problem, flow, share)
    met = np.zeros(share.shape, dtype=bool)
    while True:
        count = met.sum()
        np.logical_or.at(met, circuit.end, unlike & forward)
        np.logical_or.at(met, circuit.start, unlike & backward)
        met[~circuit.mixing] = False
        if met.sum() == count:
            return np.flatnonzero(met.any(axis=1))
        unlike = (forward & met[circuit.start]) | (backward & met[circuit.end])


def leaving(problem: Problem, flow: Array, nodes: Indices) -> Array:
    """1 where a branch carries away what each of K nodes passes on, shape (K, B, S)."""
    starts = problem.circuit.start == nodes[:, None]
    ends = problem.circuit.end == nodes[:, None]
    away = starts[:, :, None] & (flow > 0.0) | ends[:, :, None] & (flow < 0.0)
    return floats(away)


def shares_change(
    problem: Problem, flow: Array, share: Array, nodes: Indices, change: Array, by_share: Array
) -> Array:
    """Change of the shares of K nodes with flows and fluids linear about `flow`, shape (K, S).

    Parameters
    ----------
    problem : Problem
        The problem.
    flow, share : Array
        Flows, shape (B, S) [m3/s], and what nodes pass on at these, shape (N, S) [-].
    nodes : Indices
        The nodes, shape (K,).
    change : Array
        Change of the flows while shares stay as they are, shape (B, S) [m3/s].
    by_share : Array
        Change of the flows with the share of each node, shape (K, B, S) [m3/s].
    """
    circuit, there, size = problem.circuit, flow >= 0.0, np.abs(flow)
    into_end = (circuit.end == nodes[:, None]).astype(float)
    into_start = (circuit.start == nodes[:, None]).astype(float)

    def arriving(each: Array, some: Indices) -> Array:
        """Sum over what some branches bring to each of the nodes of (..., some, S): (..., K, S)."""
        forward = np.where(there[some], each, 0.0)
        return np.asarray(into_end[:, some] @ forward + into_start[:, some] @ (each - forward))

    ends = problem.end_share(share)
    passed = np.where(there, share[circuit.end], share[circuit.start])
    other = np.where(flow != 0.0, np.where(there, ends[0], ends[1]) - passed, 0.0)
    other = np.where(there, other, -other)  # by the change of the flow, not of its size
    unlike = np.flatnonzero(other.any(axis=1))
    inflow = arriving(size, np.arange(len(size)))
    flows_in = inflow > STILL * problem.scale(flow)
    inflow = np.where(flows_in, inflow, 0.0)
    passes = _passes(problem, flow, nodes)
    by_share = arriving(other[unlike] * by_share[:, unlike], unlike)
    matrix = np.where(flows_in, -passes - by_share, 0.0).transpose(2, 1, 0)
    each = np.arange(len(nodes))
    matrix[:, each, each] += np.where(flows_in, (1.0 + HELD) * inflow, 1.0).T
    right = np.where(flows_in, arriving(other[unlike] * change[unlike], unlike), 0.0).T
    found = np.linalg.solve(matrix, right[:, :, None])[:, :, 0].T
    return np.asarray(found / np.maximum(np.abs(found).max(axis=0), 1.0))


def _passes(problem: Problem, flow: Array, nodes: Indices) -> Array:
    """What flows from each of K nodes straight into each of them, shape (K, K, S) [m3/s]."""
    place = np.full(len(problem.circuit.nodes), -1, dtype=np.intp)
    place[nodes] = np.arange(len(nodes))
    start, end = place[problem.circuit.start, None], place[problem.circuit.end, None]
    source, target = np.where(flow >= 0.0, start, end), np.where(flow >= 0.0, end, start)
    branch, scenario = np.nonzero((source >= 0) & (target >= 0))
    result = np.zeros((len(nodes), len(nodes), flow.shape[1]))
    pairs = source[branch, scenario], target[branch, scenario], scenario
    np.add.at(result, pairs, np.abs(flow[branch, scenario]))
    return result
