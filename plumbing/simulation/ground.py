"""A layout on the ground: its ports opened or fed, its vents dry or full, and what to watch."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields, replace
from typing import TypeVar

import numpy as np

from plumbing.errors import SolveError
from plumbing.frozen import frozen
from plumbing.geometry.attitude import gravity_body
from plumbing.hydraulics.conditions import Conditions
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.network.vent_ways import VentWay, vent_ways
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.moment import Balance, Balancing, Moment
from plumbing.simulation.setup import closed_while, set_up
from plumbing.units import clock

Fed = TypeVar("Fed", bound=Feeding)
USUAL_FLOW = 1e-3 / 60.0  # small electric filling pump, 1 L/min [m3/s]; common practice
_LOOKED = 1.0  # a step must be as long as that to tell whether anything moved [s]


def node_of(feeding: Feeding, name: str) -> int:
    """Place of a node in the circuit; -1 if nothing joins it to a tank."""
    nodes = feeding.plumbed.circuit.nodes
    return nodes.index(name) if name in nodes else -1


def outlet_names(survey: Survey, nodes: Iterable[str]) -> list[str]:
    """Names of openings by their nodes."""
    named = {one.node: one.name for one in survey.openings}
    return [named[node] for node in nodes]


def weight_of(feeding: Feeding) -> float:
    """Weight of the fuel by volume [Pa/m]."""
    return float(feeding.fluids.liquid_density[0] * np.linalg.norm(feeding.gravity[0]))


def surfaces(feeding: Feeding, volume: Array, attitude: Indices) -> Array:
    """Heights of the highest surfaces for fuel (S, T) or (S, C) [m3], shape (S, T) [m]."""
    return feeding.tanks.surfaces(volume, feeding.index[attitude])


def head_of(feeding: Feeding, volume: Array, attitude: Indices) -> Array:
    """Liquid standing over the lowest point of every tank, shape (S, T) [Pa]."""
    index = feeding.index[attitude]
    floors = [one.cut.bottom[index] for one in feeding.tanks.vessels]
    return weight_of(feeding) * (surfaces(feeding, volume, attitude) - np.stack(floors, axis=-1))


def at_tanks(feeding: Feeding, pressure: Array) -> Array:
    """Pressure in the gas space of each tank, (S, T) [Pa], of those at nodes, (S, N)."""
    node = feeding.plumbed.tank_node
    return np.where(node >= 0, pressure[:, node], 0.0)


def for_draining(layout: Layout, survey: Survey) -> Vented:
    """The same in the attitude it is tilted to for draining."""
    pitch, roll = drain_attitude(layout)
    tilted = replace(layout.filling, pitch=pitch, roll=roll)
    return for_fuelling(replace(layout, filling=tilted), survey)


def drain_attitude(layout: Layout) -> tuple[float, float]:
    """Pitch and roll while draining: as stated, else as for filling [rad]."""
    stated = layout.filling
    pitch = stated.pitch if stated.drain_pitch is None else stated.drain_pitch
    roll = stated.roll if stated.drain_roll is None else stated.drain_roll
    return pitch, roll


def for_fuelling(layout: Layout, survey: Survey, *, traps: bool = False) -> Vented:
    """The layout as it stands for filling: attitude, valves, vents dry.

    While it is filled, gas that finds no way out `traps` itself in high pockets of the tanks.

    Raises
    ------
    SolveError
        No open line joins a tank to anything.
    """
    stated = layout.filling
    made = set_up(
        layout,
        survey,
        gravity_body(stated.pitch, stated.roll)[None],
        closed=closed_while(layout, "filling"),
        celsius=stated.temperature,
        ports=True,
        centres=False,
        breathers={name: breathers(survey, name) for name in layout.tanks} if traps else {},
        flow=filling_flow(layout),
    )
    return vented(made, vent_ways(survey.network))


def filling_flow(layout: Layout) -> float:
    """Flow of the filling pump, the usual one if none is stated [m3/s]."""
    return layout.filling.flow or USUAL_FLOW


def breathers(survey: Survey, tank: str) -> tuple[str, ...]:
    """Ports by which gas leaves a tank: its vents, and where its air comes by other tanks."""
    ports = [way.port.name for way in vent_ways(survey.network) if way.tank.name == tank]
    air = survey.air_path(tank)
    through = [port.partition(".") for port in (air.path.ports if air else ())]
    return tuple(dict.fromkeys(ports + [port for part, _, port in through if part == tank]))


def tapped(feeding: Fed, node: int, flow: Array) -> Fed:
    """The same with a flow drawn at a node in each scenario, shape (S,) [m3/s].

    A negative flow is pushed in. It is the last of the demands; an opening is one no more.
    """
    plumbed, circuit = feeding.plumbed, feeding.plumbed.circuit
    fixed, mixing = circuit.fixed.copy(), circuit.mixing.copy()
    fixed[node], mixing[node] = False, True
    kept = plumbed.outlet_node != node
    plumbed = replace(
        plumbed,
        circuit=replace(circuit, fixed=fixed, mixing=mixing),
        demands=(*plumbed.demands, circuit.nodes[node]),
        demand_node=np.append(plumbed.demand_node, node),
        outlets=tuple(n for n, stays in zip(plumbed.outlets, kept, strict=True) if stays),
        outlet_node=plumbed.outlet_node[kept],
    )
    stretches = len(feeding.gravity)
    before = np.zeros((len(flow), stretches, len(plumbed.demands) - 1)) + feeding.flow
    more = np.repeat(flow[:, None, None], stretches, axis=1)
    ends = replace(feeding.ends, plumbed=plumbed)
    return replace(feeding, ends=ends, flow=np.concatenate([before, more], axis=2))


def opened(feeding: Fed, node: int) -> Fed:
    """The same with an opening at a node; the last of the outlets."""
    plumbed, circuit = feeding.plumbed, feeding.plumbed.circuit
    fixed, mixing = circuit.fixed.copy(), circuit.mixing.copy()
    fixed[node], mixing[node] = True, False
    kept = plumbed.outlet_node != node
    names = tuple(n for n, stays in zip(plumbed.outlets, kept, strict=True) if stays)
    plumbed = replace(
        plumbed,
        circuit=replace(circuit, fixed=fixed, mixing=mixing),
        outlets=(*names, circuit.nodes[node]),
        outlet_node=np.append(plumbed.outlet_node[kept], node),
    )
    return replace(feeding, ends=replace(feeding.ends, plumbed=plumbed))


@frozen(eq=False, kw_only=True)
class Vented(Feeding):
    """A network that knows where its vents rise.

    A vent full of fuel pulls with all the height from the surface down to its outlet. One that
    is not must first be filled up to its highest point, and its falling part gives no help.

    Attributes
    ----------
    rise : Array
        Highest point of a vent over its outlet, at the end in the tank, shape (K, B, 2) [m]; 0 at
        all other ends.
    primed : Flags
        Vents full of fuel, shape (S or 1, B).
    wetted : Flags
        Ends that give nothing but fuel, whatever the level, shape (S or 1, B, 2).
    imposed : Array
        Gauge pressure that something keeps up at each node that is an opening, shape (N,) [Pa].
    """

    rise: Array
    primed: Flags
    wetted: Flags
    imposed: Array

    def outside(self, rows: Indices, stretch: Indices) -> Array:
        """Gauge pressure at the openings, with what is imposed there, shape (R, N) [Pa]."""
        return Feeding.outside(self, rows, stretch) + self.imposed

    def conditions(self, rows: Indices, stretch: Indices, volume: Array) -> Conditions:
        """Conditions with the rise of every vent that is not full of fuel as a threshold."""
        given = Feeding.conditions(self, rows, stretch, volume)
        share = np.where(self._of(self.wetted, rows), 1.0, given.share)
        weight = given.liquid_density * np.linalg.norm(given.gravity, axis=1)
        still = ~self._of(self.primed, rows)[:, :, None]
        over = weight[:, None, None] * self.rise[stretch] * still * share
        return replace(given, share=share, threshold=given.threshold + over)

    @staticmethod
    def _of(flags: Flags, rows: Indices) -> Flags:
        return flags[rows] if len(flags) > 1 else flags


def vented(feeding: Feeding, ways: Iterable[VentWay]) -> Vented:
    """The same network with its vents empty of fuel."""
    branches = len(feeding.plumbed.circuit.branches)
    down = feeding.tanks.down[feeding.index]
    crest = np.full((len(down), branches, 2), np.inf)
    rise = np.zeros_like(crest)
    for way in open_ways(feeding, ways):
        branch, end = way_end(feeding, way)
        highest = way.crest(down)
        lower = highest < crest[:, branch, end]
        over = highest + down @ np.array(way.outlet.at)
        rise[lower, branch, end] = np.maximum(over, 0.0)[lower]
        crest[lower, branch, end] = highest[lower]
    return Vented(
        **{one.name: getattr(feeding, one.name) for one in fields(Feeding)},
        rise=rise,
        primed=np.zeros((1, branches), dtype=bool),
        wetted=np.zeros((1, branches, 2), dtype=bool),
        imposed=np.zeros(len(feeding.plumbed.circuit.nodes)),
    )


def open_ways(feeding: Feeding, ways: Iterable[VentWay]) -> list[VentWay]:
    """Ways from a tank to an outlet that is open, of those that are in the network."""
    plumbed = feeding.plumbed
    return [
        way
        for way in ways
        if way.lines
        and way.lines[0] in plumbed.line_branch
        and f"{way.outlet.name}.tube" in plumbed.outlets
    ]


def way_end(feeding: Feeding, way: VentWay) -> tuple[int, int]:
    """Branch by which a way leaves its tank, and which end of it lies in the tank."""
    plumbed = feeding.plumbed
    branch = plumbed.line_branch[way.lines[0]][0]
    tank = plumbed.tanks.index(way.tank.name)
    return branch, 0 if plumbed.end_tank[branch, 0] == tank else 1


class Watch:
    """A balance in which each scenario has an attitude of its own, and an end when nothing moves.

    The balance asked for to see whether anything moves is the one the next step begins with, so
    it is worked out once.
    """

    def __init__(self, found: Balancing, attitude: Indices, still: Array) -> None:
        self.attitude, self.still = attitude, still
        self._found = found
        self._over = np.zeros(len(attitude), dtype=bool)
        self._last: Moment | None = None
        self._known: tuple[Indices, Array, Balance] | None = None

    def balance(
        self,
        rows: Indices,
        stretch: Indices,  # noqa: ARG002
        volume: Array,
        gas: Array,
        draws: Flags | None = None,
    ) -> Balance:
        """Balance of scenarios (R,) with fuel as it lies (R, C) [m3]."""
        if self._known is not None:
            known, held, found = self._known
            if np.array_equal(known, rows) and np.array_equal(held, volume):
                return found
        return self._found(rows, self.attitude[rows], volume, gas, draws)

    def settled(self, moment: Moment) -> Flags:
        """Scenarios in which no pocket gains or loses more than `still` [m3/s], shape (S,).

        Neither now, nor over a step in which surfaces hang where gain and loss take turns.
        """
        self._over |= self._rested(moment)
        rows = np.flatnonzero(~self._over)
        if not rows.size:
            return self._over.copy()
        volume = moment.lying[rows]
        found = self._found(rows, self.attitude[rows], volume, moment.gas[rows])
        moving = np.abs(found.rate).max(axis=1, initial=0.0) > self.still[rows]
        self._over[rows[~moving]] = True
        self._known = (rows[moving], volume[moving], found.rows(moving))
        return self._over.copy()

    def _rested(self, moment: Moment) -> Flags:
        last, self._last = self._last, moment
        if last is None:
            return self._over
        length = moment.time - last.time
        gained = np.abs(moment.lying - last.lying).max(axis=1, initial=0.0)
        return np.asarray((length >= _LOOKED) & (gained <= self.still * length))


def require_met(last: Moment) -> None:
    """Raise SolveError if a run ended because no state met the laws of its network."""
    bad = np.flatnonzero(~last.met)
    if bad.size:
        after = clock(float(last.time[bad[0]]))
        raise SolveError(f"no steady state of the network was found after {after}")


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

    def spilt(self, scenario: int) -> Array:
        """Liquid lost through each outlet of one scenario so far [m3], shape (M, O)."""
        return np.array([moment.spilt[scenario] for moment in self.seen])
