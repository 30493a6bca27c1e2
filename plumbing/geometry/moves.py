"""How far a body must move along one axis to be clear of another."""

import numpy as np

from plumbing.geometry.bodies import Body, gap, shell
from plumbing.geometry.inset import contains
from plumbing.geometry.mesh import Mesh
from plumbing.physics.arrays import Array

AXES = np.concatenate([np.eye(3), -np.eye(3)])
STEP, FARTHEST = 1e-3, 60e-3  # of moves into a room [m]
_BACK = 12  # tangents tried; four are usual


def least_move(one: Body, other: Body, wanted: float) -> tuple[float, int]:
    """Shortest move of the first body along one axis after which the gap is as wanted.

    It comes from where their boxes are clear of each other, back towards the other body, by
    tangents: the distance of two convex pieces is a convex function of the move.

    Parameters
    ----------
    one, other : Body
        The bodies.
    wanted : float
        Gap wanted [m].

    Returns
    -------
    tuple of float and int
        How far [m], and along which row of `AXES`.
    """
    (low, high), (under, over) = one.box, other.box
    beside = np.concatenate([over - low, high - under]) + wanted
    least, chosen = np.inf, 0
    for k in np.argsort(beside).tolist():
        far = min(float(beside[k]), least)
        move = _back(one, other, wanted, AXES[k], far)
        if move < least:
            least, chosen = move, k
    return least, chosen


def _back(one: Body, other: Body, wanted: float, axis: Array, far: float) -> float:
    """Move along an axis that still keeps the gap; infinite where even the farthest does not."""
    clear = np.inf
    for _ in range(_BACK):
        found = gap(one, _moved(other, -far * axis))
        if found is None or found.overlap or found.size < wanted - 1e-7:
            break
        clear = far
        slope = float(found.away @ axis)
        if slope <= 1e-6 or found.size - wanted < 1e-6:
            break
        far = max(far - (found.size - wanted) / slope, 0.0)
    return clear


def least_move_within(body: Body, room: Mesh, wanted: float) -> tuple[float, int] | None:
    """Shortest move of a body along one axis, in whole steps, after which it lies in a room.

    Parameters
    ----------
    body : Body
        The body.
    room : Mesh
        Closed solid to hold it.
    wanted : float
        Distance wanted to its surface [m].

    Returns
    -------
    tuple of float and int, or None
        How far [m], and along which row of `AXES`; None where no move up to `FARTHEST` helps.
    """
    skin = shell(room)
    for far in np.arange(1, 1 + round(FARTHEST / STEP)) * STEP:
        for k, axis in enumerate(AXES):
            if is_within(_moved(body, far * axis), room, skin, wanted):
                return float(far), k
    return None


def is_within(body: Body, room: Mesh, skin: Body, wanted: float) -> bool:
    """Whether a body lies in a room with a distance to its skin [m]."""
    if not contains(room, body.points.reshape(-1, 3)).all():
        return False
    found = gap(body, skin, wanted)
    return found is None or not (found.overlap or found.size < wanted)


def _moved(body: Body, shift: Array) -> Body:
    skin = body.skin and Mesh(body.skin.vertices + shift, body.skin.faces)
    return Body(body.points + shift, body.ball, body.disc, body.normal, skin)
