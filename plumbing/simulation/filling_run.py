"""Filling as a run: fuel pushed in at one port until nothing more is gained."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.network.vent_ways import vent_ways
from plumbing.physics.arrays import Array, Flags
from plumbing.physics.bags import USUAL_FILLING
from plumbing.simulation.filling_pump import Pump
from plumbing.simulation.ground import (
    Moments,
    Vented,
    Watch,
    at_tanks,
    head_of,
    node_of,
    open_ways,
    require_met,
    way_end,
)
from plumbing.simulation.march import march
from plumbing.simulation.moment import Balance, Moment, Stretches

SPILLS = 0.02  # share of the filling flow that counts as running out
GAINS = 0.01  # share of what is pushed in that must stay on board; less, and it is full
_LOOKED_AT = 0.01  # of the capacity pushed in, over which that is looked at
_STILL = 1e-4  # of the filling flow: nothing moves
_LONGEST = 4 * 3600.0
_TOLERANCE = 5e-3


@frozen(eq=False)
class FillingRun:
    """Filling at one flow, from empty until nothing more is gained.

    Attributes
    ----------
    network : Vented
        What fuel is pushed into.
    node : int
        Where.
    flow : float
        The flow [m3/s].
    outlets : tuple of str
        Nodes of the O outlets.
    time, pushed_in : Array
        Moments, and fuel pushed in so far, shape (M,) [s], [m3].
    volume : Array
        Fuel in each tank, shape (M, T) [m3].
    lying : Array
        Fuel as it lies, shape (M, C) [m3].
    spilt, leaving : Array
        Fuel lost so far through each outlet, and leaving there, shape (M, O) [m3], [m3/s].
    pressure : Array
        Gauge pressure at every node, shape (M, N) [Pa].
    overflow : Vented
        The network in the end, every outlet that fuel leaves through full of it.
    full : Balance
        What that does, one row.
    """

    network: Vented
    node: int
    flow: float
    outlets: tuple[str, ...]
    time: Array
    pushed_in: Array
    volume: Array
    lying: Array
    spilt: Array
    leaving: Array
    pressure: Array
    overflow: Vented
    full: Balance

    @property
    def lowest(self) -> Array:
        """Pressure at the lowest point of each tank, shape (M, T) [Pa]."""
        return lowest_of(self.network, self.pressure, self.lying)

    @property
    def highest(self) -> Array:
        """Highest pressure at the lowest point of each tank, shape (T,) [Pa]."""
        overflowing = lowest_of(self.network, self.full.pressure, self.full.volume)
        return np.asarray(np.maximum(self.lowest.max(axis=0), overflowing[0]))


def lowest_of(network: Vented, pressure: Array, volume: Array) -> Array:
    """Pressure at the lowest point of each tank, shape (S, T) [Pa]."""
    level = np.zeros(len(volume), dtype=np.intp)
    return at_tanks(network, pressure) + head_of(network, volume, level)


def run_filling(
    layout: Layout, survey: Survey, network: Vented, port: str, flow: Array
) -> tuple[FillingRun, ...]:
    """Fill an empty layout at S flows (S,) [m3/s] through one port that joins a tank."""
    pump = Pump(network, node_of(network, f"{port}.tube"), flow)
    most = layout.filling.pump_pressure
    bags = network.tanks.has_bags
    if most is None and bags:
        most = USUAL_FILLING
    if most is not None and (bags or pump.has_loops):  # pressures come with the flows
        pump = replace(pump, most=most)
    seen, pressure = _marched(pump)
    if most is not None and (pressure[:, :, pump.node] > most * (1.0 + 1e-6)).any():
        pump = replace(pump, most=most)
        seen, pressure = _marched(pump)
    overflow = _overflowing(survey, pump, seen[-1])
    rows = np.arange(len(flow))
    work = replace(pump, network=overflow).at_rest()
    last = seen[-1]
    full = work.balance(rows, np.zeros_like(rows), last.lying, last.gas)
    full = work.solved(full, rows)
    return tuple(_one(pump, seen, pressure, overflow, full, row) for row in range(len(flow)))


def _marched(pump: Pump) -> tuple[list[Moment], Array]:
    """Moments of a run, and the pressure at every node then, shape (M, S, N) [Pa]."""
    count, tanks = len(pump.flow), pump.network.tanks
    work = pump.at_rest()
    watch = Watch(work.balance, np.zeros(count, dtype=np.intp), _STILL * pump.flow)
    gaining, seen = _Gaining(float(tanks.capacity.sum()), count), Moments()
    march(
        tanks,
        Stretches(np.array([_LONGEST]), pump.network.index),
        np.zeros((count, len(tanks.vessels))),
        watch.balance,
        stop=lambda moment: watch.settled(moment) | gaining.over(moment),
        see=seen,
        tolerance=_TOLERANCE,
    )
    require_met(seen.seen[-1])
    return seen.seen, work.extreme(seen.seen)


def _one(
    pump: Pump, seen: list[Moment], pressure: Array, overflow: Vented, full: Balance, row: int
) -> FillingRun:
    return FillingRun(
        network=pump.network,
        node=pump.node,
        flow=float(pump.flow[row]),
        outlets=pump.outlets,
        time=np.array([moment.time[row] for moment in seen]),
        pushed_in=np.array([-moment.burnt[row, -1] for moment in seen]),
        volume=np.array([moment.volume[row] for moment in seen]),
        lying=np.array([moment.lying[row] for moment in seen]),
        spilt=np.array([moment.spilt[row] for moment in seen]),
        leaving=np.array([moment.ended.spilt[row] for moment in seen]),
        pressure=pressure[:, row],
        overflow=replace(overflow, wetted=overflow.wetted[row : row + 1]),
        full=full.rows(np.array([row])),
    )


class _Gaining:
    """Whether any part worth telling of what is pushed in still stays on board."""

    def __init__(self, capacity: float, scenarios: int) -> None:
        self.stride = _LOOKED_AT * capacity
        self._before = [[(0.0, 0.0)] for _ in range(scenarios)]

    def over(self, moment: Moment) -> Flags:
        """Scenarios that gain no more, shape (S,)."""
        pushed, held = -moment.burnt[:, -1], moment.volume.sum(axis=1)
        return np.array([self._one(*one) for one in zip(self._before, pushed, held, strict=True)])

    def _one(self, before: list[tuple[float, float]], pushed: float, held: float) -> bool:
        before.append((pushed, held))
        while pushed - before[1][0] >= self.stride:
            del before[0]
        more = pushed - before[0][0]
        return bool(more >= self.stride and held - before[0][1] < GAINS * more)


def _overflowing(survey: Survey, pump: Pump, last: Moment) -> Vented:
    """The network with every outlet that fuel leaves through full of it, back to its tanks."""
    network, rows = pump.network, len(pump.flow)
    wetted = np.array(np.broadcast_to(network.wetted, (rows, *network.wetted.shape[1:])))
    index = np.repeat(network.index[:1], rows)
    share = network.ends.spread(network.ends.share(last.lying, index))
    leaves = last.ended.spilt > SPILLS * pump.flow[:, None]
    for way in open_ways(network, vent_ways(survey.network)):
        at = pump.outlets.index(f"{way.outlet.name}.tube")
        branch, end = way_end(network, way)
        wetted[:, branch, end] |= leaves[:, at] & (share[:, branch, end] > 0.0)
    return replace(network, wetted=wetted)
