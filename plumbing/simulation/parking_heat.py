"""Fuel that warms while the aircraft stands: growth, spill, and pressure under a cap."""

from __future__ import annotations

import numpy as np

from plumbing.model.layout import Layout
from plumbing.network.vent_ways import VentWay
from plumbing.physics import thermal
from plumbing.physics.arrays import Array
from plumbing.simulation.fluid import blend_of
from plumbing.simulation.parking_ground import Ground
from plumbing.simulation.parking_result import Warmed


def warmed(
    layout: Layout,
    grounded: Ground,
    ways: list[VentWay],
    volume: Array,
    attitude: int,
    celsius: float,
) -> Warmed:
    """Warm the fuel on board from the filling temperature.

    Parameters
    ----------
    layout : Layout
        For the fuel and the walls.
    grounded : Ground
        The layout in its attitudes.
    ways : list of VentWay
        Ways from tanks to outlets.
    volume : Array
        Fuel in each tank, shape (T,) [m3].
    attitude : int
        Number of the attitude.
    celsius : float
        Hottest the fuel gets [degC].
    """
    start = layout.filling.temperature
    density = blend_of(layout).density_15
    ratio = float(thermal.volume_ratio(start, celsius, density))
    grown = volume * max(ratio - 1.0, 0.0)
    capacity = grounded.tanks.capacity
    fill = float(volume.sum() / capacity.sum()) if capacity.sum() > 0.0 else 0.0
    pressure = 0.0
    if volume.sum() > 0.0:
        pressure = max(float(thermal.capped_pressure(fill, start, celsius, density)), 0.0)
    rated = {
        tank.name: tank.wall.proof_pressure
        for tank in layout.tanks.values()
        if tank.wall is not None and tank.wall.proof_pressure is not None
    }
    room = _room(grounded, ways, volume, attitude, grown)
    return Warmed(
        celsius_from=start,
        celsius_to=celsius,
        grown=float(grown.sum()),
        share=max(ratio - 1.0, 0.0),
        spilt=max(float((grown - room).sum()), 0.0),
        capped_pressure=pressure,
        brim_full=bool(grown.sum() > (capacity - volume).sum()),
        over_rated={name: proof for name, proof in rated.items() if proof < pressure},
    )


def _room(
    grounded: Ground, ways: list[VentWay], volume: Array, attitude: int, grown: Array
) -> Array:
    """Growth each tank can take up before fuel leaves by its vent, shape (T,) [m3].

    A vented tank takes it up until its vent port is under fuel; the air of any other tank is
    pushed on by its own fuel and takes up no more than that.
    """
    room = np.minimum(grounded.tanks.capacity - volume, grown)
    index = grounded.index[attitude]
    for way in ways:
        number = grounded.plumbed.tanks.index(way.tank.name)
        covered = float(grounded.tanks.vessels[number].covered[way.port.name][index])
        room[number] = max(covered - volume[number], 0.0)
    return room
