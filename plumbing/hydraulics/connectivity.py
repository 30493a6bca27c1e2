"""Which nodes have a way to the outside through branches that are not blocked."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from plumbing.hydraulics import sparse
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.conditions import Conditions
from plumbing.physics.arrays import Flags


@dataclass(frozen=True, slots=True, eq=False)
class Reach:
    """Ways between each node and any fixed pressure.

    Attributes
    ----------
    supplied : Flags
        Flow can come from a fixed node to this node, shape (S or 1, N).
    relieved : Flags
        Flow can go from this node to a fixed node, shape (S or 1, N).
    """

    supplied: Flags
    relieved: Flags


def reach(circuit: Circuit, conditions: Conditions) -> Reach:
    """Follow open branches from the fixed nodes, both ways, in every scenario at once."""
    blocked = conditions.blocked
    if not blocked.any():
        return _all_open(circuit)
    with_flow, against_flow = ~blocked[:, :, 0], ~blocked[:, :, 1]
    return Reach(
        supplied=_spread(circuit, with_flow, against_flow),
        relieved=_spread(circuit, against_flow, with_flow),
    )


@lru_cache(maxsize=64)
def _all_open(circuit: Circuit) -> Reach:
    """Ways when nothing is blocked."""
    every = np.ones((1, len(circuit.branches)), dtype=bool)
    met = _spread(circuit, every, every)
    return Reach(met, met)


def _spread(circuit: Circuit, forward: Flags, backward: Flags) -> Flags:
    """Nodes met when setting out from fixed nodes; shape (rows of `forward`, N)."""
    if len(circuit.nodes) > sparse.LARGE:
        return sparse.spread(circuit, forward, backward)
    met = np.repeat(circuit.fixed[:, None], len(forward), axis=1)  # nodes first: rows are moved
    forward, backward = forward.T, backward.T
    while True:
        count = met.sum()
        np.logical_or.at(met, circuit.end, met[circuit.start] & forward)
        np.logical_or.at(met, circuit.start, met[circuit.end] & backward)
        if met.sum() == count:
            return met.T
