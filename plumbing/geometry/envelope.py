"""Grids of attitudes for maps over pitch and roll."""

import numpy as np

from plumbing.frozen import frozen
from plumbing.geometry.attitude import direction, gravity_body
from plumbing.physics.arrays import Array


@frozen(eq=False)
class AttitudeGrid:
    """Attitudes on a grid.

    Attributes
    ----------
    pitch : Array
        Nose up positive [rad], shape (P,).
    roll : Array
        Starboard down positive [rad], shape (R,).
    down : Array
        Unit vectors along gravity in body axes [-], shape (P * R, 3), roll running fastest.
    """

    pitch: Array
    roll: Array
    down: Array


def attitude_grid(
    pitch_range: tuple[float, float], roll_range: tuple[float, float], n: int | tuple[int, int]
) -> AttitudeGrid:
    """Directions of gravity at rest over a range of pitch and roll.

    Parameters
    ----------
    pitch_range, roll_range : tuple of float
        Lowest and highest angle [rad], both included.
    n : int or tuple of int
        Values along each axis, or along pitch and along roll.
    """
    pitches, rolls = (n, n) if isinstance(n, int) else n
    pitch = np.linspace(*pitch_range, pitches)
    roll = np.linspace(*roll_range, rolls)
    down = direction(gravity_body(pitch[:, None], roll[None, :]))
    return AttitudeGrid(pitch, roll, down.reshape(-1, 3))
