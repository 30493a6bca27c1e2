"""The pickups of a layout, for the checks that ask something of each."""

from collections.abc import Iterator

import numpy as np

from plumbing.geometry.pickup import clunk_position
from plumbing.model.layout import Layout
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Hose, Pickup, Port, Tank
from plumbing.physics.arrays import Array


def pickups(layout: Layout) -> Iterator[tuple[Tank, Port, Pickup]]:
    """Every pickup with its tank and port."""
    for tank in layout.tanks.values():
        for port in tank.ports.values():
            if port.pickup is not None:
                yield tank, port, port.pickup


def clunks(layout: Layout) -> Iterator[tuple[Tank, Port, Pickup]]:
    """Pickups that swing on a hose: clunks, and fine-pore bodies hung like one."""
    for tank, port, pickup in pickups(layout):
        if pickup.hangs:
            yield tank, port, pickup


def hoses(layout: Layout) -> Iterator[tuple[Tank, Port, Hose]]:
    """Hoses between a port and its pickup that are described."""
    for tank, port, pickup in pickups(layout):
        if pickup.hose is not None:
            yield tank, port, pickup.hose


def clunk_hoses(layout: Layout) -> Iterator[tuple[Tank, Port, Hose | None]]:
    """Hoses of the pickups that swing; None where the file does not describe it."""
    for tank, port, pickup in clunks(layout):
        yield tank, port, pickup.hose


def pickup_ends(tank: Tank, port: Port, down: Array) -> Array | None:
    """Where the pickup of a port opens for each direction of gravity [m].

    Parameters
    ----------
    tank : Tank
        The tank.
    port : Port
        Its port.
    down : Array
        Unit vectors along which fuel falls, shape (D, 3).

    Returns
    -------
    Array or None
        Points, shape (D, 3); None without a pickup, or where the reach of a clunk is not stated.
    """
    pickup = port.pickup
    if pickup is None:
        return None
    if not pickup.hangs:
        return np.tile(np.array(port.inner_end), (len(down), 1))
    if pickup.reach is None:
        return None
    clearance = 0.5 * (pickup.diameter or 0.0)
    return clunk_position(tank_mesh(tank), port.at, pickup.reach, down, clearance)
