"""Where the fuel stands in a tank, aircraft held in an attitude."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.geometry.attitude import direction, gravity_body
from plumbing.geometry.cut import cut
from plumbing.geometry.pools import pools
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Tank
from plumbing.simulation.vessel import pockets_of


def down_at(pitch: float = 0.0, roll: float = 0.0) -> tuple[float, float, float]:
    """Unit vector along which fuel falls, nose up by pitch and starboard down by roll [rad]."""
    x, y, z = direction(gravity_body(pitch, roll))
    return float(x), float(y), float(z)


LEVEL = (0.0, 0.0, -1.0)


def height(point: ArrayLike, down: ArrayLike = LEVEL) -> float:
    """Height of a point against the direction fuel falls in [m]."""
    return float(-np.dot(np.asarray(point, float), np.asarray(down, float)))


def surface(tank: Tank, share: float, down: ArrayLike = LEVEL) -> float:
    """Height of the highest free surface with a share of the tank's capacity in it [m].

    The tank was filled upright and then turned.
    """
    mesh, ways = tank_mesh(tank), np.array([LEVEL, tuple(np.asarray(down, float))])
    parted = pockets_of(mesh, ways)
    if parted is None:
        solid = cut(mesh, down, moments=False)
        return float(solid.level_for(share * solid.capacity)[0])
    lies, first, second = pools(parted, False), np.array([0]), np.array([1])
    volume = lies.turned(lies.poured(np.array([share * mesh.volume]), first), first, second)
    levels = lies.levels(volume, second)
    return float(levels[volume > 0.0].max(initial=parted.tree.low[1].min()))


def share_above(tank: Tank, level: float, down: ArrayLike = LEVEL) -> float:
    """Share of the tank's capacity that lies above a height [-]."""
    solid = cut(tank_mesh(tank), down, moments=False)
    return float(1.0 - solid.volume_at(level)[0] / solid.capacity)


def span(tank: Tank, down: ArrayLike = LEVEL) -> tuple[float, float]:
    """Heights of the tank's lowest and highest point [m]."""
    heights = -(tank_mesh(tank).vertices @ np.asarray(down, float))
    return float(heights.min()), float(heights.max())
