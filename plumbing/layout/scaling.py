"""A starter's aircraft grown until the tanks that were said have room in their places.

All places grow by one factor, that of the tank which grows most; the other tanks then shrink
about their own centres. So nothing that was apart comes to overlap.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from plumbing.layout.answers import Answers
from plumbing.model.fields import Vector
from plumbing.model.layout import Layout
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Cylinder, Tank

Array = NDArray[np.float64]
_STEP = 1e-4  # lengths are said to this [m]
_NEAR_WALL = 0.95  # share of the way from the middle of a box to its wall


@dataclass(frozen=True, slots=True)
class Grown:
    """One tank in its new size.

    Attributes
    ----------
    at : tuple of float
        Centre [m].
    size : tuple of float
        Length, width and height over all [m].
    ports : dict of str to tuple of float
        Places of its ports [m].
    reach : float
        Factor on the reach of its pickups [-].
    is_box : bool
        Whether it is a box; else it stays a cylinder.
    """

    at: Vector
    size: Vector
    ports: dict[str, Vector]
    reach: float
    is_box: bool


def grown(layout: Layout, answers: Answers) -> tuple[float, dict[str, Grown]]:
    """Factor on all places [-], and the tanks in their new sizes.

    Parameters
    ----------
    layout : Layout
        The starter's.
    answers : Answers
        What was said of the tanks.
    """
    factors = {name: _factors(tank, answers) for name, tank in layout.tanks.items()}
    most = max(1.0, *(float(one.max()) for one in factors.values()))
    tanks = {name: _grown(layout.tanks[name], most, one, answers) for name, one in factors.items()}
    return most, tanks


def _factors(tank: Tank, answers: Answers) -> Array:
    """By how much a tank grows along each axis [-], shape (3,)."""
    _, size = _bounds(tank)
    said = answers.tanks.get(tank.name)
    if isinstance(said, tuple):
        return np.asarray(said) / size
    wanted = tank_mesh(tank).volume if said is None else said
    return np.full(3, math.cbrt(wanted / _volume(tank, size)))


def _volume(tank: Tank, size: Array) -> float:
    """Volume of the box or cylinder that stands for it [m3]."""
    share = 0.25 * math.pi if isinstance(tank.shape, Cylinder) else 1.0
    return share * float(np.prod(size))


def _grown(tank: Tank, most: float, factors: Array, answers: Answers) -> Grown:
    centre, size = _bounds(tank)
    is_box = not isinstance(tank.shape, Cylinder) or isinstance(answers.tanks.get(tank.name), tuple)
    at, new = rounded(centre * most), rounded(size * factors)
    ports = {}
    for port in tank.ports.values():
        share = (np.asarray(port.at) - centre) / (0.5 * size)  # -1 to 1 along each axis
        if is_box:
            share = _on_wall(share)
            if port.pickup is None and tank.role == "main":
                share[2] = 1.0  # where air gathers: a box is higher than what it stands for
        ports[port.name] = rounded(np.asarray(at) + 0.5 * np.asarray(new) * share)
    return Grown(at, new, ports, float(factors.min()), is_box)


def _on_wall(share: Array) -> Array:
    """A port on the wall of the box: where it is near one, else in the lid."""
    side = int(np.argmax(np.abs(share)))
    found = share.copy()
    if abs(share[side]) < _NEAR_WALL:
        side = 2
    found[side] = math.copysign(1.0, share[side]) if abs(share[side]) >= _NEAR_WALL else 1.0
    return found


def _bounds(tank: Tank) -> tuple[Array, Array]:
    """Centre and size of a tank's bounding box [m], shape (3,) each."""
    if isinstance(tank.shape, Cylinder):
        size = np.full(3, tank.shape.diameter)
        size["xyz".index(tank.shape.axis)] = tank.shape.length
        return np.asarray(tank.shape.at), size
    corners = tank_mesh(tank).vertices
    low, high = corners.min(axis=0), corners.max(axis=0)
    return 0.5 * (low + high), high - low


def rounded(point: Array) -> Vector:
    """A point to the tenth of a millimetre [m]."""
    x, y, z = (round(float(one) / _STEP) * _STEP for one in point)
    return x, y, z


def corners(
    route: tuple[Vector, ...],
    factor: float,
    ends: tuple[Vector, Vector],
    moved: tuple[Vector, Vector],
) -> tuple[Vector, ...]:
    """Corners of a line [m] after its ends have moved; what ran along an axis still does.

    Parameters
    ----------
    route : tuple of tuple of float
        Corners in the starter [m].
    factor : float
        On all places [-].
    ends, moved : tuple of tuple of float
        Both ends in the starter and now [m].
    """
    old, new = np.asarray(ends[0]), np.asarray(moved[0])
    found = []
    for corner in np.asarray(route):
        new = np.where(np.isclose(corner, old, atol=_STEP), new, factor * corner)
        old = corner
        found.append(new)
    last = np.isclose(old, np.asarray(ends[1]), atol=_STEP)
    found[-1] = np.where(last, np.asarray(moved[1]), found[-1])
    return tuple(rounded(one) for one in found)
