"""Fuel standing over a stopped engine."""

from __future__ import annotations

import numpy as np

from plumbing.model.ground import Parking
from plumbing.model.layout import Layout
from plumbing.model.parts import Valve
from plumbing.network import Survey
from plumbing.network.roles import Barrier
from plumbing.network.spread import spread
from plumbing.physics.arrays import Array
from plumbing.simulation.filling import LEAK_AT
from plumbing.simulation.ground import surfaces, weight_of
from plumbing.simulation.parking_result import EngineParked
from plumbing.simulation.parking_run import Standing


def shut(valve: Valve, parking: Parking) -> bool:
    """Whether a valve is closed while the aircraft is parked like that."""
    if valve.kind == "check":
        return False
    if valve.kind == "electric":
        return (valve.unpowered or valve.parked) == "closed"
    return parking.shut_off_closed and valve.parked == "closed"


def open_to(layout: Layout, survey: Survey, engine: str, parking: Parking) -> tuple[str, ...]:
    """Tanks whose fuel can run to an engine left parked, past a stopped pump."""
    network = survey.network

    def allow(number: int, backward: bool) -> bool:
        join = network.joins[number]
        if join.barrier is Barrier.VALVE:
            return not shut(layout.valves[join.name], parking)
        if join.barrier is Barrier.CAP:
            return False
        return join.barrier is Barrier.NONE or not backward

    reached = spread(network, (f"{engine}.feed",), allow)
    return tuple(name for name in layout.tanks if name in reached)


def engines_parked(
    layout: Layout,
    survey: Survey,
    standing: Standing,
    attitude: int,
    parking: Parking,
) -> tuple[EngineParked, ...]:
    """Every engine with fuel in a tank that feeds it.

    Parameters
    ----------
    layout, survey
        The layout and its survey.
    standing : Standing
        The layout in its attitudes.
    attitude : int
        Number of the attitude.
    parking : Parking
        For the valves and the time.
    """
    network, volume = standing.network, standing.volume[attitude]
    down = network.tanks.down[network.index[attitude]]
    levels = surfaces(network, volume[None], np.array([attitude]))[0]
    found = []
    for engine in layout.engines.values():
        tanks = [name for name in survey.tanks_feeding(engine.name) if _wet(layout, volume, name)]
        if not tanks:
            continue
        order = list(layout.tanks)
        tank = max(tanks, key=lambda name: levels[order.index(name)])
        level = float(levels[order.index(tank)])
        path = survey.fuel_path(tank, engine.name)
        parts = path.path.parts if path is not None else ()
        pump = next((part for part in parts if part in layout.pumps), "")
        closed = tuple(
            part for part in parts if part in layout.valves and shut(layout.valves[part], parking)
        )
        over = level + float(down @ np.array(engine.at))
        leak = layout.pumps[pump].leak_flow if pump else None
        rate = None if leak is None else leak * max(weight_of(network) * over, 0.0) / LEAK_AT
        leaked = 0.0 if closed or over <= 0.0 else None if rate is None else rate * parking.duration
        at = layout.pumps[pump].at if pump else engine.at
        found.append(
            EngineParked(
                engine=engine.name,
                pump=pump,
                tank=tank,
                over_engine=over,
                over_pump=level + float(down @ np.array(at)),
                shut=closed,
                open_rate=rate,
                leaked=None if leaked is None else min(leaked, float(volume.sum())),
            )
        )
    return tuple(found)


def _wet(layout: Layout, volume: Array, name: str) -> bool:
    return bool(volume[list(layout.tanks).index(name)] > 0.0)
