"""Where the fuel stands in a tank, aircraft held in an attitude."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from plumbing.geometry.attitude import direction, gravity_body
from plumbing.geometry.below import volume_below
from plumbing.geometry.cut import cut
from plumbing.geometry.pools import pools
from plumbing.model.fields import Vector
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Tank
from plumbing.physics.arrays import Array
from plumbing.simulation.room import room_of
from plumbing.simulation.vessel import RULER


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
    parted = room_of(tank).pockets(ways)
    if parted is None:
        solid = cut(mesh, down, moments=False)
        return float(solid.level_for(share * solid.capacity)[0])
    lies, first, second = pools(parted, False), np.array([0]), np.array([1])
    volume = lies.turned(lies.poured(np.array([share * mesh.volume]), first), first, second)
    levels = lies.levels(volume, second)
    return float(levels[volume > 0.0].max(initial=parted.tree.low[1].min()))


def gas_kept(
    tank: Tank, openings: Sequence[ArrayLike], down: ArrayLike = LEVEL
) -> tuple[float, Vector]:
    """Gas that stays in a tank while fuel rises in it and gas leaves by some openings only.

    An opening lets out what lies above it in its own high pocket, and what comes over the lips of
    others; the rest has no way out.

    Parameters
    ----------
    tank : Tank
        The tank.
    openings : sequence of array_like
        Where they are in the tank, one or more, shape (3,) each [m].
    down : array_like
        Unit vector along which fuel falls, shape (3,).

    Returns
    -------
    float
        Share of the tank's capacity [-].
    Vector
        Highest point of the pocket that keeps most of it [m].
    """
    mesh, up = tank_mesh(tank), -np.asarray(down, float)[None]
    points, row = np.array(openings, float), np.zeros(len(openings), dtype=np.intp)
    gas = room_of(tank).pockets(up)
    if gas is None:
        level = float((points @ up[0]).max())
        kept = 1.0 - float(volume_below(mesh, down, level)[0]) / mesh.volume
        return kept, _vector(mesh.vertices[(mesh.vertices @ up[0]).argmax()])
    basin = gas.tree.basin_at(points, row, RULER)
    each = gas.drawn_down(-(points @ up[0]), basin, row).min(axis=0)
    top = gas.tree.mesh.vertices[gas.tree.lowest[0, each.argmax()]]
    return float(each.sum() / mesh.volume), _vector(top)


def _vector(point: Array) -> Vector:
    x, y, z = point.tolist()
    return x, y, z


def span(tank: Tank, down: ArrayLike = LEVEL) -> tuple[float, float]:
    """Heights of the tank's lowest and highest point [m]."""
    heights = -(tank_mesh(tank).vertices @ np.asarray(down, float))
    return float(heights.min()), float(heights.max())
