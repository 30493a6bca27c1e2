"""Gas that is shut in: tanks that hang together and have no open way to any outlet.

Fuel that is drawn from them stretches their gas, fuel that is pushed in presses it together, at
the temperature of the tank (Boyle's law). Their gas spaces breathe as one: in each the same share
of its gas is gained.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from plumbing.frozen import frozen
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.layout_circuit import Plumbed
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.physics.constants import ATMOSPHERE

_BUBBLE = 1e-9  # of its capacity, gas that a brim-full tank holds all the same


@frozen(eq=False)
class Shut:
    """G closed sets of tanks in a circuit with N nodes and T tanks.

    Attributes
    ----------
    plumbed : Plumbed
        The circuit with one tank of each set as a node of given pressure.
    first : Indices
        The node of that tank, shape (G,).
    nodes, tanks : Array
        1 for the nodes and the tanks of each set, else 0, shape (G, N) and (G, T).
    """

    plumbed: Plumbed
    first: Indices
    nodes: Array
    tanks: Array

    def pockets(self, capacity: Array, volume: Array, gas: Array) -> Pockets:
        """Gas of R scenarios, as `pockets` says."""
        sets = self.nodes[None], self.tanks[None]
        return replace(pockets(self.plumbed, sets, capacity, volume, gas), first=self.first)


@frozen(eq=False)
class Pockets:
    """Shut-in gas of R scenarios.

    Attributes
    ----------
    demand_node : Indices
        Nodes of the demands, shape (P,).
    nodes : Array
        1 for the nodes of each of G closed sets, else 0, shape (R or 1, G, N).
    first : Indices
        Nodes of given pressure, which give what is left over.
    pressure : Array
        Mean gauge pressure of the gas of each set, shape (R, G) [Pa].
    among, parts : Array
        Part of the gas of each set at each node, shape (R, G, N), and in each tank, (R, G, T) [-].
    """

    demand_node: Indices
    nodes: Array
    first: Indices
    pressure: Array
    among: Array
    parts: Array

    def rows(self, which: Flags | Indices) -> Pockets:
        """The same for some scenarios."""
        return replace(
            self,
            nodes=self.nodes[which] if len(self.nodes) > 1 else self.nodes,
            pressure=self.pressure[which],
            among=self.among[which],
            parts=self.parts[which],
        )

    def drawn_from(self, flow: Array) -> Array:
        """What demands (R, P) [m3/s] draw from each set, shape (R, G) [m3/s]."""
        return np.asarray(np.einsum("rp,rgp->rg", flow, self.nodes[:, :, self.demand_node]))

    def swelling(self, flow: Array) -> Array:
        """Drawn at every node by gas that gains as demands (R, P) draw, shape (R, N) [m3/s]."""
        taken: Array = -np.einsum("rg,rgn->rn", self.drawn_from(flow), self.among)
        taken[:, self.first] = 0.0
        return taken

    def lost(self, drawn: Array) -> Array:
        """Gas lost by each tank, (R, T) [m3/s at ambient], where demands draw gas (R, P) [m3/s]."""
        dense = 1.0 + self.pressure / ATMOSPHERE
        lost: Array = np.einsum("rg,rgt->rt", dense * self.drawn_from(drawn), self.parts)
        return lost

    def spread(self, each: Array) -> Array:
        """A pressure of each set (R, G) [Pa] at all of its nodes, shape (R, N) [Pa]."""
        return np.asarray(np.einsum("rg,rgn->rn", each, self.nodes))

    def offset(self, pressure: Array) -> Array:
        """How much too low pressures (R, N) [Pa] stand in each set, shape (R, G) [Pa]."""
        mean = np.einsum("rn,rgn->rg", pressure, self.among)
        return np.asarray(self.pressure - mean)


def pockets(
    plumbed: Plumbed, sets: tuple[Array, Array], capacity: Array, volume: Array, gas: Array
) -> Pockets:
    """Gas that is shut in, of R scenarios.

    Parameters
    ----------
    plumbed : Plumbed
        The circuit.
    sets : (Array, Array)
        1 for the nodes and the tanks of each closed set, (R or 1, G, N) and (R or 1, G, T); all 0
        for a set that a scenario has not.
    capacity : Array
        Of each tank, shape (T,) [m3].
    volume, gas : Array
        Fuel in each tank, and its gas as the volume it has at ambient pressure, (R, T) [m3].
    """
    nodes, tanks = sets
    bubble = _BUBBLE * capacity
    spaces = tanks * (np.maximum(capacity - volume, 0.0) + bubble)[:, None]
    total = spaces.sum(axis=2)
    there = np.where(total > 0.0, total, 1.0)
    held = (tanks * (gas + bubble)[:, None]).sum(axis=2)
    parts = spaces / there[:, :, None]
    among = np.zeros((*total.shape, nodes.shape[2]))
    reached = plumbed.tank_node >= 0
    among[:, :, plumbed.tank_node[reached]] = parts[:, :, reached]
    return Pockets(
        demand_node=plumbed.demand_node,
        nodes=nodes,
        first=np.zeros(0, dtype=np.intp),
        pressure=np.where(total > 0.0, ATMOSPHERE * (held / there - 1.0), 0.0),
        among=among,
        parts=parts,
    )


def stretched_to(began: ArrayLike, ended: ArrayLike, suction: float) -> Array:
    """Part of a step after which the suction of shut-in gas passes a value, 0 to 1 [-].

    Its volume grows evenly (Boyle's law). `began` and `ended` are its gauge pressures [Pa].
    """
    first, second = (1.0 / (ATMOSPHERE + np.asarray(one, float)) for one in (began, ended))
    grows = second > first
    part = (1.0 / (ATMOSPHERE - suction) - first) / np.where(grows, second - first, 1.0)
    return np.where(grows, np.clip(part, 0.0, 1.0), 0.0)


def shut_in(plumbed: Plumbed, blocked: Flags) -> tuple[Indices, tuple[Shut | None, ...]]:
    """Closed sets of every scenario.

    Parameters
    ----------
    plumbed : Plumbed
        The circuit, B branches.
    blocked : Flags
        Ends at which nothing can enter, shape (S or 1, B, 2).

    Returns
    -------
    Indices
        Which of the following each scenario has, shape (S or 1,).
    tuple of Shut or None
        None where everything has a way to the outside.
    """
    ways, which = np.unique(blocked.reshape(len(blocked), -1), axis=0, return_inverse=True)
    known: dict[bytes, int] = {}
    made: list[Shut | None] = []
    place = np.zeros(len(ways), dtype=np.intp)
    for number, way in enumerate(ways):
        groups = _groups(plumbed, way.reshape(-1, 2).all(axis=1))
        place[number] = known.setdefault(groups.tobytes(), len(made))
        if place[number] == len(made):
            made.append(_shut(plumbed, groups))
    return place[np.asarray(which).reshape(-1)], tuple(made)


def joined(plumbed: Plumbed, closed: Flags) -> Indices:
    """Nodes that hang together, one number a set, shape (N,); `closed` branches, (B,)."""
    circuit = plumbed.circuit
    start, end = circuit.start[~closed], circuit.end[~closed]
    label, before = np.arange(len(circuit.nodes)), None
    while before is None or (label != before).any():
        before = label.copy()
        np.minimum.at(label, end, label[start])
        np.minimum.at(label, start, label[end])
    return label


def _groups(plumbed: Plumbed, closed: Flags) -> Indices:
    """Number of the closed set of each node, -1 for none, (N,); `closed` branches, (B,)."""
    circuit, label = plumbed.circuit, joined(plumbed, closed)
    tanks = plumbed.tank_node[plumbed.tank_node >= 0]
    shut = np.setdiff1d(label[tanks], label[circuit.fixed])
    return np.where(np.isin(label, shut), np.searchsorted(shut, label), -1)


def sets_of(plumbed: Plumbed, closed: Flags) -> tuple[Array, Array]:
    """Closed sets that closed branches (B,) leave: their nodes (G, N) and tanks (G, T)."""
    return _sets(plumbed, _groups(plumbed, closed))


def _sets(plumbed: Plumbed, groups: Indices) -> tuple[Array, Array]:
    nodes = groups == np.arange(int(groups.max()) + 1)[:, None]
    tanks = (plumbed.tank_node >= 0) & nodes[:, plumbed.tank_node]
    return nodes.astype(float), tanks.astype(float)


def _shut(plumbed: Plumbed, groups: Indices) -> Shut | None:
    nodes, tanks = _sets(plumbed, groups)
    if not len(nodes):
        return None
    first = plumbed.tank_node[tanks.argmax(axis=1)]
    return Shut(given(plumbed, first), first, nodes, tanks)


def given(plumbed: Plumbed, nodes: Indices) -> Plumbed:
    """The same with the pressure given at these nodes, too."""
    circuit: Circuit = plumbed.circuit
    fixed, mixing = circuit.fixed.copy(), circuit.mixing.copy()
    fixed[nodes], mixing[nodes] = True, False
    return replace(plumbed, circuit=replace(circuit, fixed=fixed, mixing=mixing))
