"""A circuit with places at which it can leak: each a hole to the outside with a flow of its own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from plumbing.hydraulics.plumbed import NO_TANK, Plumbed
from plumbing.physics.arrays import Array, Indices

HOLE = 0.3e-3  # diameter of a leak at a joint [m]; common practice
_DISCHARGE = 0.6  # discharge coefficient of a hole with a sharp edge; handbook value


@dataclass(frozen=True, slots=True, eq=False)
class Leaky:
    """A circuit with L places to leak at.

    Attributes
    ----------
    plumbed : Plumbed
        The circuit; branches keep their numbers, new ones follow.
    hole : Indices
        Node outside each leak: what is pushed in there is what it gives, gas, shape (L,).
    point : Indices
        Node inside each leak, shape (L,).
    """

    plumbed: Plumbed
    hole: Indices
    point: Indices


def air_through(suction: Array, air_density: Array) -> Array:
    """Air that a leak draws in [m3/s] under a suction [Pa]; none under pressure.

    References
    ----------
    Flow through a sharp hole, incompressible.
    """
    area = np.pi / 4.0 * HOLE**2
    speed = np.sqrt(2.0 * np.maximum(suction, 0.0) / air_density)
    flow: Array = _DISCHARGE * area * speed
    return flow


def leaky(plumbed: Plumbed, places: Sequence[tuple[int, int]], ends: Sequence[int]) -> Leaky:
    """Make places at which a circuit can leak.

    Parameters
    ----------
    plumbed : Plumbed
        The circuit.
    places : sequence of (int, int)
        Branch, and its end at which it leaks: 0 for the start, 1 for the end. Each branch once.
    ends : sequence of int
        Nodes without a way on, such as closed fill ports, that can leak themselves.
    """
    circuit = plumbed.circuit
    count = len(circuit.nodes)
    inner = count + 2 * np.arange(len(places), dtype=np.intp)
    grown = _Grown(plumbed)
    for node, (branch, end) in zip(inner.tolist(), places, strict=True):
        grown.split(branch, end, node)
    mixing = np.concatenate([circuit.mixing, np.tile([True, False], len(places))])
    mixing[list(ends)] = False
    names = [f"{kind} {n}" for n in range(len(places)) for kind in ("leak", "hole")]
    made = replace(
        circuit,
        nodes=(*circuit.nodes, *names),
        fixed=np.concatenate([circuit.fixed, np.zeros(2 * len(places), dtype=bool)]),
        mixing=mixing,
        branches=(*circuit.branches, *names),
        start=np.array(grown.start, dtype=np.intp),
        end=np.array(grown.end, dtype=np.intp),
        points=np.array(grown.points),
    )
    closed = np.array(ends, dtype=np.intp)
    return Leaky(
        plumbed=replace(
            plumbed,
            circuit=made,
            end_tank=np.array(grown.tank, dtype=np.intp),
            end_port=tuple(grown.port),
            pore=np.array(grown.pore),
            cracking=np.concatenate([plumbed.cracking, np.zeros((len(names), 2))]),
            one_way=np.concatenate([plumbed.one_way, np.zeros((len(names), 2), dtype=bool)]),
        ),
        hole=np.concatenate([inner + 1, closed]),
        point=np.concatenate([inner, closed]),
    )


class _Grown:
    """Branch by branch, what changes when branches are split at an end."""

    def __init__(self, plumbed: Plumbed) -> None:
        circuit = plumbed.circuit
        self.start, self.end = circuit.start.tolist(), circuit.end.tolist()
        self.points = list(circuit.points)
        self.tank = [list(pair) for pair in plumbed.end_tank]
        self.port = list(plumbed.end_port)
        self.pore = [list(pair) for pair in plumbed.pore]

    def split(self, branch: int, end: int, node: int) -> None:
        """Put a node before one end of a branch, and a hole beside it."""
        side = self.start if end == 0 else self.end
        before, side[branch] = side[branch], node
        at = self.points[branch][end]
        tank, port, pore = self.tank[branch], self.port[branch], self.pore[branch]
        self._add(node, before, at, (tank[end], port[end], pore[end]))
        self._add(node, node + 1, at, (NO_TANK, "", 0.0))
        tank[end], pore[end] = NO_TANK, 0.0
        self.port[branch] = ("", port[1]) if end == 0 else (port[0], "")

    def _add(self, start: int, end: int, at: Array, far: tuple[int, str, float]) -> None:
        self.start.append(start)
        self.end.append(end)
        self.points.append(np.array([at, at]))
        self.tank.append([NO_TANK, far[0]])
        self.port.append(("", far[1]))
        self.pore.append([0.0, far[2]])
