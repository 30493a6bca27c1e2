"""What goes by continuity alone: the flows of a tree whose pumps are far from starving."""

from __future__ import annotations

import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.junction_mixing import mixed
from plumbing.hydraulics.topology import topology
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.simulation.moment import Balance
from plumbing.simulation.sealed import pockets, sets_of
from plumbing.simulation.state import TankEnds


@frozen(eq=False)
class Ways:
    """A circuit in the X shapes that its closed branches leave, for S scenarios.

    Attributes
    ----------
    ends : TankEnds
        The circuit with N nodes and B branches, and its T tanks.
    of : Indices
        Shape that each scenario has, shape (S or 1,).
    tree : Flags
        Whether a shape is a tree, shape (X,).
    paths : Array
        Flow in each branch for a demand at each node, shape (X, N, B) [-].
    reached : Flags
        Nodes that anything can flow to, shape (X, N).
    nodes, tanks : Array
        Closed sets, at most G, shape (X, G, N) and (X, G, T); see `pockets`.
    """

    ends: TankEnds
    of: Indices
    tree: Flags
    paths: Array
    reached: Flags
    nodes: Array
    tanks: Array

    @classmethod
    def left_by(cls, ends: TankEnds, blocked: Flags) -> Ways:
        """What closed branch ends (S or 1, B, 2) leave."""
        plumbed = ends.plumbed
        shapes, of = np.unique(blocked.all(axis=2), axis=0, return_inverse=True)
        sets = [sets_of(plumbed, closed) for closed in shapes]
        walks = [
            _paths(plumbed.circuit, plumbed.tank_node[np.argmax(tanks, axis=1)], ~closed)
            for closed, (_, tanks) in zip(shapes, sets, strict=True)
        ]
        most = max(len(nodes) for nodes, _ in sets)
        return cls(
            ends=ends,
            of=np.asarray(of).reshape(-1),
            tree=np.array([tree for _, _, tree in walks]),
            paths=np.stack([paths for paths, _, _ in walks]),
            reached=np.stack([reached for _, reached, _ in walks]),
            nodes=np.stack([_padded(nodes, most) for nodes, _ in sets]),
            tanks=np.stack([_padded(tanks, most) for _, tanks in sets]),
        )

    def passed_on(
        self,
        which: Indices,
        index: Indices,
        volume: Array,
        gas: Array,
        wanted: Array,
        blocked: Flags,
        suction: Array,
    ) -> tuple[Balance, Flags]:
        """Balance of R scenarios, and where it holds.

        It does not where anything would flow through a closed end, or where gas that is drawn
        from is stretched, or a bag pulls, by more than `suction` (R or 1,) [Pa].

        Parameters
        ----------
        which, index : Indices
            Shape that each has, and its direction among those of the tanks, shape (R,).
        volume : Array
            Fuel as it lies, shape (R, C) [m3].
        gas : Array
            As for `pockets`.
        wanted : Array
            What the P demands want, shape (R, P) [m3/s].
        blocked : Flags
            Closed branch ends, shape (R or 1, B, 2).
        """
        ends, plumbed, circuit = self.ends, self.ends.plumbed, self.ends.plumbed.circuit
        at = plumbed.demand_node
        shut = pockets(
            plumbed,
            (self.nodes[which], self.tanks[which]),
            ends.tanks.capacity,
            ends.tanks.total(volume),
            gas,
        )
        drawn = np.where(self.reached[which][:, at], wanted, 0.0)
        demand = plumbed.demand(drawn) + shut.swelling(drawn)
        flow = np.einsum("rn,rnb->rb", demand, self.paths[which])
        share = ends.spread(ends.share(volume, index))
        nodes = mixed(circuit, flow, share, np.ones(demand.shape))
        inside = topology(circuit).mixing_end
        first = np.where(inside[:, 0], nodes[:, circuit.start], share[:, :, 0])
        last = np.where(inside[:, 1], nodes[:, circuit.end], share[:, :, 1])
        carried = flow * np.where(flow >= 0.0, first, last)
        gained = carried @ plumbed.gains
        mix = nodes[:, at]
        stuck = ((flow > 0.0) & blocked[:, :, 0]) | ((flow < 0.0) & blocked[:, :, 1])
        found = Balance(
            volume=volume,
            held=gas,
            rate=ends.gained(carried, index),
            gas=-shut.lost(drawn * (1.0 - mix)),
            drawn=drawn,
            burnt=drawn * mix,
            share=np.where(drawn == wanted, mix, 0.0),
            spilt=gained[:, plumbed.outlet_node],
            pressure=np.zeros(demand.shape),
            solved=np.zeros(len(volume), dtype=bool),
            met=np.ones(len(volume), dtype=bool),
        )
        slack = (shut.pressure >= -suction[:, None]) | (shut.drawn_from(drawn) == 0.0)
        holds = ~stuck.any(axis=1) & slack.all(axis=1)
        if ends.tanks.has_bags:
            limp = ends.tanks.bag_pressure(ends.tanks.total(volume)) >= -suction[:, None]
            holds &= limp.all(axis=1)
        return found, holds


def _padded(sets: Array, most: int) -> Array:
    return np.pad(sets, ((0, most - len(sets)), (0, 0)))


def _paths(circuit: Circuit, first: Indices, is_open: Flags) -> tuple[Array, Flags, bool]:
    """Paths (N, B), nodes reached (N,), and whether every node is reached in one way only.

    Openings give what is drawn, and so do the nodes `first`; some branches (B,) are open.
    """
    reached = circuit.fixed.copy()
    reached[first] = True
    paths = np.zeros((len(circuit.nodes), len(circuit.branches)))
    waiting, left = np.flatnonzero(reached).tolist(), is_open.copy()
    while waiting:
        node = waiting.pop()
        for branch in np.flatnonzero(left & ((circuit.start == node) | (circuit.end == node))):
            sense = 1.0 if circuit.start[branch] == node else -1.0
            other = int(circuit.end[branch] if sense > 0.0 else circuit.start[branch])
            if reached[other]:
                return paths, reached, False
            left[branch], reached[other] = False, True
            paths[other] = paths[node]
            paths[other, branch] = sense
            waiting.append(other)
    return paths, reached, True
