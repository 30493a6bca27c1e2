"""How far a body must move along one axis to be clear of another."""

import numpy as np

from plumbing.geometry.bodies import Body, gap
from plumbing.geometry.mesh import Mesh
from plumbing.physics.arrays import Array

AXES = np.concatenate([np.eye(3), -np.eye(3)])
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


def _moved(body: Body, shift: Array) -> Body:
    skin = body.skin and Mesh(body.skin.vertices + shift, body.skin.faces)
    return Body(body.points + shift, body.ball, body.disc, body.normal, skin)
