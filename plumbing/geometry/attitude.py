"""Attitudes and load factors as rotations and effective gravity in body axes.

Body axes are x aft, y starboard, z up. Pitch is positive nose up, roll positive starboard wing
down, yaw positive nose to starboard. Effective gravity is gravity minus acceleration: the
direction in which fuel falls.
"""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array
from plumbing.physics.constants import GRAVITY


def rotation(roll: ArrayLike, pitch: ArrayLike, yaw: ArrayLike = 0.0) -> Array:
    """Matrix that turns vectors of a part (or aircraft) into the axes it was turned in.

    The turns follow the aeronautical order: yaw first, then pitch, then roll about the axes
    already turned. A tank drawn upright and set into the aircraft with these angles has its
    points at ``points @ rotation.T + offset``.

    Parameters
    ----------
    roll, pitch, yaw : array_like
        Angles [rad], any shape that broadcasts to one another.

    Returns
    -------
    Array
        Rotation matrices [-], shape (..., 3, 3).

    References
    ----------
    Rotation order z, y, x of ISO 1151-1, written for axes turned half round about y.
    """
    roll, pitch, yaw = np.broadcast_arrays(
        np.asarray(roll, float), np.asarray(pitch, float), np.asarray(yaw, float)
    )
    about_x = _about(0, -roll)  # x points aft here, so starboard down turns the other way
    about_y = _about(1, pitch)
    about_z = _about(2, -yaw)
    return about_z @ about_y @ about_x


def _about(axis: int, angle: Array) -> Array:
    """Right-handed rotation matrices about one axis [-], shape (..., 3, 3)."""
    matrix = np.zeros((*angle.shape, 3, 3))
    after, last = (axis + 1) % 3, (axis + 2) % 3
    matrix[..., axis, axis] = 1.0
    matrix[..., after, after] = matrix[..., last, last] = np.cos(angle)
    matrix[..., after, last] = -np.sin(angle)
    matrix[..., last, after] = np.sin(angle)
    return matrix


def gravity_body(pitch: ArrayLike, roll: ArrayLike = 0.0) -> Array:
    """Effective gravity at rest, in body axes.

    Parameters
    ----------
    pitch : array_like
        Nose up positive [rad].
    roll : array_like
        Starboard down positive [rad].

    Returns
    -------
    Array
        Effective gravity [m/s2], shape (..., 3): level is (0, 0, -9.80665), nose up sends fuel
        aft (+x), starboard down sends it to starboard (+y).
    """
    pitch, roll = np.broadcast_arrays(np.asarray(pitch, float), np.asarray(roll, float))
    return GRAVITY * np.stack(
        [np.sin(pitch), np.cos(pitch) * np.sin(roll), -np.cos(pitch) * np.cos(roll)], axis=-1
    )


def specific_force_to_gravity(load_x: ArrayLike, load_y: ArrayLike, load_z: ArrayLike) -> Array:
    """Effective gravity from load factors as an accelerometer fixed in the aircraft reads them.

    An accelerometer reads acceleration minus gravity, so effective gravity is its negative. Level
    and unaccelerated reads (0, 0, +1); accelerating forwards at half a g reads (-0.5, 0, 1)
    because x points aft, and fuel falls aft; a 3 g pull reads (0, 0, 3).

    Parameters
    ----------
    load_x, load_y, load_z : array_like
        Load factors along aft, starboard and up [g].

    Returns
    -------
    Array
        Effective gravity in body axes [m/s2], shape (..., 3).
    """
    load = np.broadcast_arrays(
        np.asarray(load_x, float), np.asarray(load_y, float), np.asarray(load_z, float)
    )
    return -GRAVITY * np.stack(load, axis=-1)


def direction(gravity: ArrayLike) -> Array:
    """Unit vectors along effective gravity; where it vanishes, straight down in the aircraft.

    Parameters
    ----------
    gravity : array_like
        Effective gravity [m/s2], shape (..., 3).

    Returns
    -------
    Array
        Unit vectors [-], shape (..., 3).
    """
    gravity = np.asarray(gravity, float)
    size = np.linalg.norm(gravity, axis=-1, keepdims=True)
    weightless = size < 1e-9 * GRAVITY
    level = np.array([0.0, 0.0, -1.0])
    return np.where(weightless, level, gravity / np.where(weightless, 1.0, size))
