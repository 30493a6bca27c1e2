"""Fuel that warms while the aircraft stands: growth, spill, and pressure under a cap."""

from __future__ import annotations

import numpy as np

from plumbing.model.layout import Layout
from plumbing.physics import thermal
from plumbing.physics.arrays import Array, Flags
from plumbing.simulation.fluid import blend_of
from plumbing.simulation.parking_result import Warmed
from plumbing.simulation.parking_run import Standing
from plumbing.simulation.sealed import joined


def warmed(layout: Layout, standing: Standing, attitude: int, celsius: float) -> Warmed:
    """Warm the fuel on board from the filling temperature.

    Parameters
    ----------
    layout : Layout
        For the fuel and the walls.
    standing : Standing
        The layout in its attitudes.
    attitude : int
        Number of the attitude.
    celsius : float
        Hottest the fuel gets [degC].
    """
    start, density = layout.filling.temperature, blend_of(layout).density_15
    ratio = float(thermal.volume_ratio(start, celsius, density))
    volume = standing.volume[attitude]
    grown = volume * max(ratio - 1.0, 0.0)
    together = _together(standing, attitude)
    capacity = standing.network.tanks.capacity
    fill: Array = (together @ volume) / (together @ capacity)
    limp = _hangs_on_bag(standing, together) & (fill * ratio < 1.0)
    rise = np.maximum(thermal.capped_pressure(fill, start, celsius, density), 0.0)
    rise[limp] = 0.0
    pressure = dict(zip(layout.tanks, np.where(fill > 0.0, rise, 0.0).tolist(), strict=True))
    rated = {
        tank.name: tank.wall.proof_pressure
        for tank in layout.tanks.values()
        if tank.wall is not None and tank.wall.proof_pressure is not None
    }
    return Warmed(
        celsius_from=start,
        celsius_to=celsius,
        grown=float(grown.sum()),
        share=max(ratio - 1.0, 0.0),
        spilt=max(float((grown - _room(standing, attitude, grown))[~limp].sum()), 0.0),
        capped_pressure=pressure,
        brim_full=tuple(
            name for name, one in zip(layout.tanks, fill, strict=True) if one * ratio >= 1.0
        ),
        over_rated={name: proof for name, proof in rated.items() if proof < pressure[name]},
    )


def _together(standing: Standing, attitude: int) -> Flags:
    """Which tanks hang together, every vent capped, shape (T, T)."""
    plumbed, capacity = standing.network.plumbed, standing.network.tanks.capacity
    closed = (standing.blocked[attitude] | standing.capped).all(axis=1)
    label = joined(plumbed, closed)
    alone = -1 - np.arange(len(capacity))
    sets = np.where(plumbed.tank_node >= 0, label[plumbed.tank_node], alone)
    return np.asarray(sets[:, None] == sets)


def _hangs_on_bag(standing: Standing, together: Flags) -> Flags:
    """Tanks that are bags or hang together with one, which takes up their growth, shape (T,)."""
    bags = np.array([one.bag is not None for one in standing.network.tanks.vessels])
    return np.asarray((together & bags).any(axis=1))


def _room(standing: Standing, attitude: int, grown: Array) -> Array:
    """Growth each tank can take up before fuel leaves by its vent, shape (T,) [m3].

    A vented tank takes it up until its vent port is under fuel; the air of any other tank is
    pushed on by its own fuel and takes up no more than that.
    """
    network, volume = standing.network, standing.volume[attitude]
    room: Array = np.minimum(network.tanks.capacity - volume, grown)
    index = network.index[attitude]
    for way in standing.ways:
        number = network.plumbed.tanks.index(way.tank.name)
        covered = float(network.tanks.vessels[number].covered[way.port.name][index])
        room[number] = max(covered - volume[number], 0.0)
    return room
