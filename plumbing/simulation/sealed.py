"""Gas that is shut in: tanks that hang together and have no open way to any outlet.

Fuel that is drawn from them stretches their gas, fuel that is pushed in presses it together, at
the temperature of the tank (Boyle's law). Their gas spaces breathe as one: in each the same share
of its gas is gained.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.plumbed import Plumbed
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.physics.constants import ATMOSPHERE

_BUBBLE = 1e-9  # of its capacity, gas that a brim-full tank holds all the same


@dataclass(frozen=True, slots=True, eq=False)
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
        """Gas of R scenarios.

        Parameters
        ----------
        capacity : Array
            Of each tank, shape (T,) [m3].
        volume, gas : Array
            Fuel in each tank, and its gas as the volume it has at ambient pressure, (R, T) [m3].
        """
        bubble = _BUBBLE * capacity
        space = np.maximum(capacity - volume, 0.0) + bubble
        total = space @ self.tanks.T
        pressure = ATMOSPHERE * ((gas + bubble) @ self.tanks.T / total - 1.0)
        parts = self.tanks * space[:, None, :] / total[:, :, None]
        among = np.zeros((*total.shape, self.nodes.shape[1]))
        reached = self.plumbed.tank_node >= 0
        among[:, :, self.plumbed.tank_node[reached]] = parts[:, :, reached]
        return Pockets(self, pressure, among, parts)


@dataclass(frozen=True, slots=True, eq=False)
class Pockets:
    """Shut-in gas of R scenarios.

    Attributes
    ----------
    shut : Shut
        G closed sets.
    pressure : Array
        Mean gauge pressure of the gas of each set, shape (R, G) [Pa].
    among, parts : Array
        Part of the gas of each set at each node, shape (R, G, N), and in each tank, (R, G, T) [-].
    """

    shut: Shut
    pressure: Array
    among: Array
    parts: Array

    def rows(self, which: Flags | Indices) -> Pockets:
        """The same for some scenarios."""
        return replace(
            self,
            pressure=self.pressure[which],
            among=self.among[which],
            parts=self.parts[which],
        )

    def drawn_from(self, flow: Array) -> Array:
        """What demands (R, P) [m3/s] draw from each set, shape (R, G) [m3/s]."""
        drawn: Array = flow @ self.shut.nodes[:, self.shut.plumbed.demand_node].T
        return drawn

    def swelling(self, flow: Array) -> Array:
        """Drawn at every node by gas that gains as demands (R, P) draw, shape (R, N) [m3/s].

        Nothing at the nodes of given pressure, which give what is left over.
        """
        taken: Array = -np.einsum("rg,rgn->rn", self.drawn_from(flow), self.among)
        taken[:, self.shut.first] = 0.0
        return taken

    def lost(self, drawn: Array) -> Array:
        """Gas lost by each tank, (R, T) [m3/s at ambient], where demands draw gas (R, P) [m3/s]."""
        dense = 1.0 + self.pressure / ATMOSPHERE
        lost: Array = np.einsum("rg,rgt->rt", dense * self.drawn_from(drawn), self.parts)
        return lost

    def offset(self, pressure: Array) -> Array:
        """How much too low pressures (R, N) [Pa] stand in each set, shape (R, G) [Pa]."""
        mean = np.einsum("rn,rgn->rg", pressure, self.among)
        return np.asarray(self.pressure - mean)


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
        groups = _groups(plumbed, way.reshape(-1, 2))
        place[number] = known.setdefault(groups.tobytes(), len(made))
        if place[number] == len(made):
            made.append(_shut(plumbed, groups))
    return place[np.asarray(which).reshape(-1)], tuple(made)


def _groups(plumbed: Plumbed, blocked: Flags) -> Indices:
    """Number of the closed set of each node, -1 for nodes of none, shape (N,)."""
    circuit = plumbed.circuit
    passes = ~blocked.all(axis=1)
    start, end = circuit.start[passes], circuit.end[passes]
    label, before = np.arange(len(circuit.nodes)), None
    while before is None or (label != before).any():
        before = label.copy()
        np.minimum.at(label, end, label[start])
        np.minimum.at(label, start, label[end])
    tanks = plumbed.tank_node[plumbed.tank_node >= 0]
    closed = np.setdiff1d(label[tanks], label[circuit.fixed])
    return np.where(np.isin(label, closed), np.searchsorted(closed, label), -1)


def _shut(plumbed: Plumbed, groups: Indices) -> Shut | None:
    count = int(groups.max()) + 1
    if not count:
        return None
    nodes = groups == np.arange(count)[:, None]
    reached = plumbed.tank_node >= 0
    tanks = reached & nodes[:, plumbed.tank_node]
    first = plumbed.tank_node[tanks.argmax(axis=1)]
    return Shut(given(plumbed, first), first, nodes.astype(float), tanks.astype(float))


def given(plumbed: Plumbed, nodes: Indices) -> Plumbed:
    """The same with the pressure given at these nodes, too."""
    circuit: Circuit = plumbed.circuit
    fixed, mixing = circuit.fixed.copy(), circuit.mixing.copy()
    fixed[nodes], mixing[nodes] = True, False
    return replace(plumbed, circuit=replace(circuit, fixed=fixed, mixing=mixing))
