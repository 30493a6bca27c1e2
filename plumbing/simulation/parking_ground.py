"""What filling, draining and parking share: the whole network with its ports, standing still."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from plumbing.hydraulics.plumbed import Plumbed
from plumbing.hydraulics.solution import Solution
from plumbing.hydraulics.solver import solve
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.fluid import Fluids
from plumbing.simulation.moment import Balance, Moment
from plumbing.simulation.setup import set_up
from plumbing.simulation.state import tank_ends
from plumbing.simulation.tankage import Tankage

ALIKE = 1e-3  # of its capacity: a tank that has changed by less holds what it held
SLOWLY = 100.0  # times `still`: nor may it change faster than that, however small the flow


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """A layout on the ground in K attitudes.

    Attributes
    ----------
    plumbed : Plumbed
        Everything that hangs together with a tank, fill ports and drains as nodes.
    tanks : Tankage
        Tanks in the attitudes.
    gravity : Array
        Gravity in each attitude, shape (K, 3) [m/s2].
    index : Indices
        Direction of each attitude among those of the tankage, shape (K,).
    fluids : Fluids
        Fuel and air, one row.
    """

    plumbed: Plumbed
    tanks: Tankage
    gravity: Array
    index: Indices
    fluids: Fluids

    @property
    def weight(self) -> float:
        """Weight of the fuel by volume [Pa/m]."""
        return float(self.fluids.liquid_density[0] * np.linalg.norm(self.gravity[0]))

    def node(self, name: str) -> int:
        """Place of a node in the circuit; -1 if nothing joins it to a tank."""
        nodes = self.plumbed.circuit.nodes
        return nodes.index(name) if name in nodes else -1

    def down(self) -> Array:
        """Unit vector along gravity in each attitude, shape (K, 3)."""
        return self.tanks.down[self.index]

    def head(self, volume: Array, attitude: Indices) -> Array:
        """Liquid standing over the lowest point of every tank, shape (S, T) [Pa]."""
        index = self.index[attitude]
        depths = [
            vessel.level(volume[:, number], index) - vessel.cut.bottom[index]
            for number, vessel in enumerate(self.tanks.vessels)
        ]
        return self.weight * np.stack(depths, axis=-1)


def ground(layout: Layout, survey: Survey, gravity: Array, celsius: float) -> Ground:
    """Make a layout ready to stand on the ground.

    Parameters
    ----------
    layout, survey
        The layout and its survey.
    gravity : Array
        Gravity in K attitudes, shape (K, 3) [m/s2].
    celsius : float
        Fuel temperature [degC].

    Raises
    ------
    SolveError
        No line joins a tank to anything.
    """
    made = set_up(
        layout,
        survey,
        gravity,
        closed=frozenset(),
        celsius=celsius,
        ports=True,
        centres=False,
    )
    return Ground(made.plumbed, made.tanks, gravity, made.index, made.fluids)


def feeding_at(
    grounded: Ground,
    taken: Iterable[tuple[int, Array]] = (),
    *,
    blocked: Flags | None = None,
) -> Feeding:
    """Network of a layout on the ground, with flows taken out (or pushed in) at some nodes.

    Parameters
    ----------
    grounded : Ground
        The layout in K attitudes.
    taken : iterable of (int, Array)
        Node and flow taken there in each scenario, shape (S,) [m3/s]; negative is pushed in.
    blocked : Flags, optional
        Closed branch ends, shape (S or 1, B, 2).
    """
    pairs = list(taken)
    plumbed, count = grounded.plumbed, len(grounded.gravity)
    nodes = np.array([node for node, _ in pairs], dtype=np.intp)
    flow = np.zeros((1, count, 0))
    if pairs:
        rows = np.stack([np.atleast_1d(one) for _, one in pairs], axis=-1)
        flow = np.repeat(rows[:, None, :], count, axis=1)
    names = tuple(plumbed.circuit.nodes[node] for node in nodes)
    branches = len(plumbed.circuit.branches)
    return Feeding(
        ends=tank_ends(_drawn_at(plumbed, names, nodes), grounded.tanks),
        gravity=grounded.gravity,
        index=grounded.index,
        flow=flow,
        fluids=grounded.fluids,
        stream=np.zeros(count),
        coefficient=np.zeros((1, len(plumbed.circuit.nodes))),
        blocked=plumbed.one_way[None] if blocked is None else blocked,
        multiplier=np.ones((1, branches)),
        dirt=np.ones((1, len(plumbed.dirty))),
    )


def _drawn_at(plumbed: Plumbed, names: tuple[str, ...], nodes: Indices) -> Plumbed:
    """Demands at these nodes instead of the pumps; an opening among them is one no more."""
    circuit = plumbed.circuit
    if circuit.fixed[nodes].any():
        fixed, mixing = circuit.fixed.copy(), circuit.mixing.copy()
        fixed[nodes], mixing[nodes] = False, True
        circuit = replace(circuit, fixed=fixed, mixing=mixing)
    kept = [not here for here in np.isin(plumbed.outlet_node, nodes)]
    return replace(
        plumbed,
        circuit=circuit,
        demands=names,
        demand_node=nodes,
        outlets=tuple(name for name, stays in zip(plumbed.outlets, kept, strict=True) if stays),
        outlet_node=plumbed.outlet_node[kept],
    )


def solved(feeding: Feeding, rows: Indices, attitude: Indices, volume: Array) -> Solution:
    """Flows and pressures of scenarios (R,) in attitudes (R,) with fuel (R, T) [m3]."""
    return solve(feeding.plumbed.circuit, feeding.conditions(rows, attitude, volume))


class Watch:
    """A balance in which each scenario has an attitude of its own, and an end when nothing moves.

    The balance asked for to see whether anything moves is the one the next step begins with, so
    it is worked out once; each begins from the flows found last. A tank that gains as much as it
    loses never comes quite to rest in finite steps: it hovers, and after `patience` seconds in
    which no tank is fuller or emptier than before a scenario is over as well.
    """

    def __init__(
        self, feeding: Feeding, attitude: Indices, still: Array, patience: float = np.inf
    ) -> None:
        self.attitude, self.still = attitude, still
        self.patience = patience
        slowly = SLOWLY * patience * still[:, None]
        self.alike = np.minimum(ALIKE * feeding.tanks.capacity, slowly)
        self._since = np.zeros(len(attitude))
        self._before = np.full(self.alike.shape, np.inf)
        self._found = feeding.remembering(len(attitude))
        self._over = np.zeros(len(attitude), dtype=bool)
        self._known: tuple[Indices, Array, Balance] | None = None

    def balance(
        self,
        rows: Indices,
        stretch: Indices,  # noqa: ARG002
        volume: Array,
        gas: Array,
        draws: Flags | None = None,
    ) -> Balance:
        """Balance of scenarios (R,) with fuel (R, T) [m3]."""
        if self._known is not None:
            known, held, found = self._known
            if np.array_equal(known, rows) and np.array_equal(held, volume):
                return found
        return self._found(rows, self.attitude[rows], volume, gas, draws)

    def settled(self, moment: Moment) -> Flags:
        """Scenarios in which no tank gains or loses more than `still` [m3/s], or hovers, (S,)."""
        due = moment.time - self._since >= self.patience
        self._over |= due & (np.abs(moment.volume - self._before) <= self.alike).all(axis=1)
        self._since[due], self._before[due] = moment.time[due], moment.volume[due]
        rows = np.flatnonzero(~self._over)
        if not rows.size:
            return self._over.copy()
        volume = moment.volume[rows]
        found = self._found(rows, self.attitude[rows], volume, moment.gas[rows])
        moving = np.abs(found.rate).max(axis=1, initial=0.0) > self.still[rows]
        self._over[rows[~moving]] = True
        self._known = (rows[moving], volume[moving], found.rows(moving))
        return self._over.copy()


class Moments:
    """Keeps every moment of all scenarios."""

    def __init__(self) -> None:
        self.seen: list[Moment] = []

    def __call__(self, moment: Moment) -> None:
        """Keep a moment."""
        self.seen.append(moment)

    def time(self, scenario: int) -> Array:
        """Times of one scenario [s], shape (M,)."""
        return np.array([moment.time[scenario] for moment in self.seen])

    def volume(self, scenario: int) -> Array:
        """Fuel in the tanks of one scenario [m3], shape (M, T)."""
        return np.array([moment.volume[scenario] for moment in self.seen])
