"""Standing with fuel as a run: from what is on board until nothing moves any more."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from plumbing.frozen import frozen
from plumbing.network.vent_ways import VentWay
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.physics.bubbles import capillary_lock_bore
from plumbing.simulation.ground import Moments, Vented, Watch, require_met, way_end
from plumbing.simulation.march import march
from plumbing.simulation.moment import Moment, Stretches
from plumbing.simulation.sealed import given, joined

_STILL = 1e-9  # a drop a minute [m3/s]
_LONGEST = 7 * 24 * 3600.0  # it is not followed further [s]
_TOLERANCE = 1e-2
_TRICKLE = 1e-7  # tells which fluid a vent holds: fuel on its way out, or air on its way in [m3/s]
_HANGS_FOR = 900.0  # [s] a run of days needs no closer look
_HANGS = 2.0  # a surface across an open end stays whole up to twice the bore that locks a bubble


@frozen(eq=False)
class Standing:
    """A layout that stands in A attitudes.

    Attributes
    ----------
    network : Vented
        The network; each attitude is one of its stretches.
    ways : tuple of VentWay
        Ways from a tank to an open outlet.
    volume : Array
        Fuel in each tank to begin with, shape (A, T) [m3].
    blocked : Flags
        Closed branch ends, shape (A, B, 2).
    """

    network: Vented
    ways: tuple[VentWay, ...]
    volume: Array
    blocked: Flags

    @property
    def capped(self) -> Flags:
        """Branch ends that are closed with every vent capped, shape (B, 2)."""
        circuit = self.network.plumbed.circuit
        outlets = self.network.plumbed.outlet_node
        outside = np.isin(circuit.start, outlets) | np.isin(circuit.end, outlets)
        return np.repeat(outside[:, None], 2, axis=1)


@frozen(eq=False)
class ParkingRun:
    """What one attitude comes to from one start, M moments.

    Attributes
    ----------
    full : tuple of str
        Nodes of the outlets whose vents are full of fuel at the start.
    time : Array
        Shape (M,) [s].
    volume : Array
        Fuel in each tank, shape (M, T) [m3].
    spilt : Array
        Fuel lost so far through each outlet, shape (M, O) [m3].
    rate : Array
        Fuel leaving each outlet to begin with, shape (O,) [m3/s].
    """

    full: tuple[str, ...]
    time: Array
    volume: Array
    spilt: Array
    rate: Array

    def lost(self, after: float) -> Array:
        """Fuel lost by then through each outlet, shape (O,) [m3]."""
        return _at(self.spilt, self.time, after)

    def held(self, after: float) -> Array:
        """Fuel in each tank then, shape (T,) [m3]."""
        return _at(self.volume, self.time, after)


def _at(values: Array, time: Array, after: float) -> Array:
    return np.array([np.interp(after, time, one) for one in values.T])


def run_parking(standing: Standing) -> list[list[ParkingRun]]:
    """Leave a layout standing in each attitude, from each start, until nothing moves.

    The starts: every vent dry, every vent full of fuel, and each alone full of fuel.

    Raises
    ------
    SolveError
        No steady state of the network was found on the way.
    """
    found: list[list[ParkingRun]] = [[] for _ in standing.volume]
    breathing = [_breathing(standing, attitude) for attitude in range(len(found))]
    for nodes in dict.fromkeys(breathing):
        rows = [
            (attitude, full)
            for attitude, one in enumerate(breathing)
            for full in (_starts(standing, attitude) if one == nodes else [])
        ]
        attitudes = np.array([attitude for attitude, _ in rows], dtype=np.intp)
        seen = _marched(standing, nodes, attitudes, [full for _, full in rows])
        for row, (attitude, full) in enumerate(rows):
            found[attitude].append(_one(seen, row, full))
    return found


def _starts(standing: Standing, attitude: int) -> list[tuple[str, ...]]:
    """Nodes of the outlets whose vents are full of fuel in each start.

    A vent whose port stands in air does not stay full; from one that is closed nothing runs.
    """
    network, blocked = standing.network, standing.blocked[attitude]
    index = network.index[[attitude]]
    share = network.ends.spread(network.ends.share(standing.volume[[attitude]], index))[0]
    ends = {way: way_end(network, way) for way in standing.ways}
    wet = dict.fromkeys(
        f"{way.outlet.name}.tube"
        for way, end in ends.items()
        if share[end] > 0.0 and not blocked[end]
    )
    return list(dict.fromkeys([(), tuple(wet), *((one,) for one in wet)]))


def _marched(
    standing: Standing, breathing: tuple[int, ...], attitude: Indices, full: list[tuple[str, ...]]
) -> list[Moment]:
    network = standing.network
    if breathing:
        plumbed = given(network.plumbed, np.array(breathing))
        network = replace(network, ends=replace(network.ends, plumbed=plumbed))
    primed = np.zeros((len(attitude), len(network.plumbed.circuit.branches)), dtype=bool)
    trickle = np.zeros(primed.shape)
    for way in standing.ways:
        branch, end = way_end(network, way)
        primed[:, branch] |= [f"{way.outlet.name}.tube" in start for start in full]
        trickle[:, branch] = np.where(primed[:, branch], 1.0, -1.0) * (1 - 2 * end) * _TRICKLE
    network = replace(network, primed=primed, blocked=standing.blocked[attitude])
    watch = Watch(
        network.remembering(len(attitude), trickle), attitude, np.full(len(attitude), _STILL)
    )
    seen = Moments()
    march(
        network.tanks,
        Stretches(np.array([_LONGEST]), network.index[attitude][:, None]),
        standing.volume[attitude],
        watch.balance,
        stop=watch.settled,
        see=seen,
        tolerance=_TOLERANCE,
        hangs_for=_HANGS_FOR,
    )
    require_met(seen.seen[-1])
    return seen.seen


def _one(seen: list[Moment], row: int, full: tuple[str, ...]) -> ParkingRun:
    return ParkingRun(
        full=full,
        time=np.array([moment.time[row] for moment in seen]),
        volume=np.array([moment.volume[row] for moment in seen]),
        spilt=np.array([moment.spilt[row] for moment in seen]),
        rate=seen[0].ended.spilt[row],
    )


def _breathing(standing: Standing, attitude: int) -> tuple[int, ...]:
    """Tanks with one opening so wide that bubbles rise in it past the fuel, by their node."""
    network, plumbed = standing.network, standing.network.plumbed
    tension = network.fluids.surface_tension
    lock = float(capillary_lock_bore(network.fluids.liquid_density, tension)[0])
    label = joined(plumbed, standing.blocked[attitude].all(axis=1))
    found = set()
    for way in standing.ways:
        node = int(plumbed.tank_node[plumbed.tanks.index(way.tank.name)])
        together = label == label[node]
        if way.bore >= _HANGS * lock and (plumbed.circuit.fixed & together).sum() == 1:
            found.add(node)
    return tuple(sorted(found))
