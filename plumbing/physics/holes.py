"""Flow of liquid through small sharp holes in a thin wall between two levels."""

import numpy as np

from plumbing.physics.arrays import Array, Flags
from plumbing.physics.constants import GRAVITY

DISCHARGE = 0.61
"""Flow over that of a free jet as wide as the hole [-]: a jet from a sharp slot contracts to
pi / (pi + 2) = 0.611 of it. Round holes measured at high Reynolds numbers give the same within 2 %,
up to a tenth more near 1000 (from memory)."""
RESOLVED = 1e-3  # difference of levels that is not told apart [m]; our choice


def through_hole(
    one: Array,
    other: Array,
    floor: Array,
    middle: Array,
    half: Array,
    area: Array,
    gravity: Array,
) -> Array:
    """Flow from one side of a wall to the other [m3/s], negative if back.

    The share of the hole that is wet on the higher side passes liquid under the head over what
    stands on the lower side, or over the middle of that share where it falls free. Over less than
    `RESOLVED` of head it is laminar: it goes to zero in proportion.

    Parameters
    ----------
    one, other : Array
        Levels on both sides [m], shape (...).
    floor : Array
        Height of the floor on both sides [m], shape (2, ...): what of the hole lies lower is shut.
    middle, half : Array
        Height of the hole's centre, and half its extent in height [m], shape (...).
    area : Array
        Of the hole [m2], shape (...).
    gravity : Array
        Effective gravity [m/s2], shape (...).

    References
    ----------
    Kirchhoff (1869), jets from sharp slots, from memory.
    """
    upper, lower = np.maximum(one, other), np.minimum(one, other)
    sill = np.maximum(middle - half, np.where(one >= other, floor[0], floor[1]))
    brim = np.clip(upper, sill, np.maximum(sill, middle + half))
    wet = (brim - sill) / np.maximum(2.0 * half, 1e-12)
    head = np.maximum(upper - np.maximum(lower, 0.5 * (sill + brim)), 0.0)
    fall = head / (head * head + RESOLVED * RESOLVED) ** 0.25
    flow: Array = DISCHARGE * area * wet * np.sqrt(2.0 * gravity) * fall
    return np.where(one >= other, flow, -flow)


def passes_at_once(area: Array, flow: float) -> Flags:
    """Whether holes pass a flow [m3/s] under a head that is not told apart, for areas [m2]."""
    head = (flow / (DISCHARGE * area)) ** 2 / (2.0 * GRAVITY)
    return np.asarray(head <= RESOLVED)
