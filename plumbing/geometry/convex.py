"""Nearest points of two convex pieces, with a proof of how near the answer is."""

import numpy as np

from plumbing.frozen import frozen
from plumbing.physics.arrays import Array, Indices

EXACT = 1e-9  # error of a distance [m]
TOUCHING = 1e-12  # pieces nearer than this have a point in common [m]
_MOST = 200  # steps; some ten are usual
_NO_SHARE = 1e-14
_FLAT = 1e-14  # a direction nearer to the axis than that is along it


@frozen(eq=False)
class Piece:
    """Points and all between them, each spread to a flat disc, all of it rounded by a ball.

    A tube's straight is two points and a ball, a cylinder two points and a disc, a box eight
    points, a triangle three.

    Attributes
    ----------
    points : Array
        Corners [m], shape (N, 3).
    ball : float
        Radius of the ball [m].
    disc : float
        Radius of the disc [m].
    normal : Array
        Unit vector square to the disc [-], shape (3,).
    """

    points: Array
    ball: float
    disc: float
    normal: Array

    def farthest(self, towards: Array) -> Array:
        """Farthest point in a direction, the ball left out [m], shape (3,)."""
        at: Array = self.points[int(np.argmax(self.points @ towards))]
        if self.disc:
            flat = towards - (towards @ self.normal) * self.normal
            flat = flat - (flat @ self.normal) * self.normal  # what rounding left of it
            size = float(np.sqrt(flat @ flat))
            if size > _FLAT * float(np.sqrt(towards @ towards)):
                at = at + (self.disc / size) * flat
        return at


def nearest(one: Piece, other: Piece) -> tuple[float, Array, Array]:
    """Distance of two pieces without their balls, and the nearest point of each.

    The difference of the two is searched for its point nearest to zero. A plane that has the
    whole difference beyond it bounds the distance from below, so that the search stops when the
    answer is proved to a nanometre.

    Returns
    -------
    tuple of float, Array and Array
        Distance [m], 0 where they have a point in common, and the points [m], shape (3,).

    References
    ----------
    Wolfe (1976), finding the nearest point in a polytope; Gilbert, Johnson and Keerthi (1988),
    distance between complex objects.
    """
    start = other.points[0] - one.points[0]
    pair = np.stack([one.farthest(start), other.farthest(-start)])[None]
    corners, share = pair[:, 0] - pair[:, 1], np.ones(1)
    vector = corners[0]
    for _ in range(_MOST):
        size = float(np.sqrt(vector @ vector))
        if size < TOUCHING:
            break
        added = np.stack([one.farthest(-vector), other.farthest(vector)])
        corner = added[0] - added[1]
        if size - float(vector @ corner) / size <= EXACT:
            break
        pair = np.concatenate([pair, added[None]])
        corners = np.concatenate([corners, corner[None]])
        kept, share = _least(corners, np.append(share, 0.0))
        pair, corners = pair[kept], corners[kept]
        nearer = share @ corners
        if nearer @ nearer >= vector @ vector:
            break  # rounding: nothing is gained any more
        vector = nearer
    size = float(np.sqrt(vector @ vector))
    at = np.einsum("n,nki->ki", share, pair)
    return (size if size >= TOUCHING else 0.0), at[0], at[1]


def _least(corners: Array, share: Array) -> tuple[Indices, Array]:
    """Which corners carry the point nearest to zero of all between them, and their shares."""
    kept: Indices = np.arange(len(corners))
    while True:
        whole = _on_flat(corners[kept])
        low = whole <= _NO_SHARE
        if not low.any():
            return kept, whole
        fall = share[low] - whole[low]
        way = float(np.min(np.where(fall > 0.0, share[low] / np.where(fall > 0.0, fall, 1.0), 1.0)))
        share = share + min(way, 1.0) * (whole - share)
        stays = share > _NO_SHARE
        if stays.all():
            stays[int(np.argmin(share))] = False
        kept, share = kept[stays], share[stays]
        share = share / share.sum()
        if len(kept) == 1:
            return kept, share


def _on_flat(corners: Array) -> Array:
    """Shares of corners in the point nearest to zero of the line, plane or space they span."""
    if len(corners) == 1:
        return np.ones(1)
    sides = corners[1:] - corners[0]
    found: Array
    try:
        found = np.linalg.solve(sides @ sides.T, -sides @ corners[0])
    except np.linalg.LinAlgError:
        found = np.linalg.lstsq(sides.T, -corners[0], rcond=None)[0]
    return np.concatenate([[1.0 - found.sum()], found])
