"""What each vent does while the aircraft stands, read from its runs and where the way leads."""

from __future__ import annotations

import numpy as np

from plumbing.network.vent_ways import VentWay
from plumbing.physics.arrays import Array
from plumbing.simulation.ground import way_end
from plumbing.simulation.parking_result import LEAST, State, WayParked
from plumbing.simulation.parking_run import ParkingRun, Standing

_WET = 0.5


def ways_parked(
    standing: Standing, ways: list[VentWay], attitude: int, runs: list[ParkingRun], capped: bool
) -> tuple[WayParked, ...]:
    """Every way from a tank to an outlet in one attitude, plugged ones included.

    Parameters
    ----------
    standing : Standing
        The layout in its attitudes.
    ways : list of VentWay
        Ways whose outlet is in the network.
    attitude : int
        Number of the attitude.
    runs : list of ParkingRun
        Its runs, the one with every vent dry first.
    capped : bool
        Whether the vents are capped.
    """
    return tuple(_way(standing, way, attitude, runs, capped) for way in ways)


def _way(
    standing: Standing, way: VentWay, attitude: int, runs: list[ParkingRun], capped: bool
) -> WayParked:
    network, outlets = standing.network, standing.network.plumbed.outlets
    tank = network.plumbed.tanks.index(way.tank.name)
    vessel, index = network.tanks.vessels[tank], network.index[[attitude]]
    fullest = max(float(run.volume[:, tank].max()) for run in runs)
    lying = network.tanks.lying_in(vessel, np.array([fullest]), index)
    basin = int(vessel.basin[way.port.name][index[0]])
    level = float(vessel.levels(lying, index)[0, basin])
    down = network.tanks.down[index[0]]
    head = level + float(down @ np.array(way.outlet.at))
    dry, covered = (float(one[index[0], basin]) for one in vessel.low[way.port.name])
    node = f"{way.outlet.name}.tube"
    state: State = "held"
    if capped or node not in outlets or standing.blocked[attitude][way_end(network, way)]:
        state = "capped"
    elif lying[0, basin] <= dry + _WET * (covered - dry):
        state = "dry"
    elif head <= 0.0:
        state = "above"
    else:
        first, *others = (_leaves(run, outlets.index(node)) for run in runs)
        state = "runs" if first else "siphons" if any(others) else "held"
    return WayParked(
        tank=way.tank.name,
        outlet=way.outlet.name,
        lines=way.lines,
        state=state,
        head=head,
        rise=_crest(way, down) - level,
    )


def _leaves(run: ParkingRun, outlet: int) -> bool:
    return bool(run.spilt[-1, outlet] > LEAST)


def _crest(way: VentWay, down: Array) -> float:
    return float(way.crest(down)[0])
