"""How fast the fuel in a tank swings: the first mode of its shape along each axis."""

from __future__ import annotations

import numpy as np

from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Capsule, Cylinder, Tank
from plumbing.physics.arrays import Array, Flags
from plumbing.physics.slosh import frequency, wavenumber_between, wavenumber_round

_FREE = 0.01  # share of its capacity that a tank must hold, and lack, for its fuel to swing
_NARROW = 0.2  # the surface across a lying cylinder is not taken narrower, in diameters


def swings_at_all(tank: Tank, volume: Array) -> Flags:
    """Whether fuel (K,) [m3] has a surface that can swing, shape (K,); in foam it has none."""
    capacity = (1.0 - tank.displaced) * tank_mesh(tank).volume
    share = volume / capacity
    return np.asarray((share > _FREE) & (share < 1.0 - _FREE) & (not tank.foam))


def natural_frequencies(tank: Tank, volume: Array, gravity: Array) -> Array:
    """Natural frequency of the fuel along each axis of the aircraft [rad/s], shape (K, 3).

    Upright cylinders and capsules by the formula for a round tank, everything else by that for two
    walls, with the mean depth: those of the box around the tank, and across a lying cylinder the
    ends of the surface. Baffles cut a tank into equal lengths.

    Parameters
    ----------
    tank : Tank
        The tank.
    volume : Array
        Fuel in it, shape (K,) [m3].
    gravity : Array
        Effective gravity, shape (K, 3) [m/s2].
    """
    size = np.linalg.norm(gravity, axis=1, keepdims=True)
    falls = np.abs(gravity).argmax(axis=1)
    filled = volume / (1.0 - tank.displaced)
    shape = tank.shape
    if isinstance(shape, Cylinder | Capsule) and not (shape.roll or shape.pitch or shape.yaw):
        axis, radius = "xyz".index(shape.axis), 0.5 * shape.diameter
        walls = _lying(filled / shape.length, axis, radius, shape.length)
        upright = (falls == axis)[:, None]
    else:
        corners = tank_mesh(tank).vertices
        walls = np.repeat(np.ptp(corners, axis=0)[None], len(volume), axis=0)
        radius, upright = 1.0, np.zeros((len(volume), 1), dtype=bool)
    across = np.where(np.arange(3) == falls[:, None], 1.0, walls).prod(axis=1, keepdims=True)
    area = np.where(upright, np.pi * radius**2, across)
    parts = np.array([len(tank.baffles) + 1.0, 1.0, 1.0])
    wavenumber = np.where(upright, wavenumber_round(radius), wavenumber_between(walls / parts))
    return frequency(size, wavenumber, filled[:, None] / area)


def _lying(section: Array, axis: int, radius: float, length: float) -> Array:
    """Length and width of the surface in a lying cylinder, filled by (K,) [m2], (K, 3) [m]."""
    angle = np.linspace(0.0, np.pi, 181)
    filled = radius**2 * (angle - np.sin(angle) * np.cos(angle))
    width = 2.0 * radius * np.maximum(np.sin(np.interp(section, filled, angle)), _NARROW)
    return np.where(np.arange(3) == axis, length, width[:, None])
