"""What junctions pass on: the mean of what flows in, weighted by flow."""

from functools import lru_cache

import numpy as np

from plumbing.hydraulics import sparse
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.topology import topology
from plumbing.physics.arrays import Array, Flags

HELD = 1e-10  # part of the inflow taken from what rests there, where a closed ring turns
PURE = 1e-14  # [-] as little of the other fluid is rounding
STILL = 1e-13  # flows below this part of the scenario's largest are rounding, not flow


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
    flow = np.where(np.abs(flow) > STILL * np.abs(flow).max(axis=1, keepdims=True), flow, 0.0)
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
