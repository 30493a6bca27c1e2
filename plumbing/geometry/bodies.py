"""Bodies in space: what they are made of, and how far apart they stand."""

from collections.abc import Iterator
from dataclasses import field
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike

from plumbing.frozen import frozen
from plumbing.geometry.convex import Piece, nearest
from plumbing.geometry.inset import contains
from plumbing.geometry.mesh import Mesh, face_normals
from plumbing.physics.arrays import Array, Indices

BATCH = 1_000_000  # pairs of pieces bounded at a time
MOST_CORNERS = 1500  # of a mesh that is asked whether it is convex


@frozen(eq=False)
class Body:
    """A solid made of convex pieces.

    Attributes
    ----------
    points : Array
        Corners of the pieces [m], shape (P, N, 3).
    ball, disc : float
        Radii that all its pieces have [m]; see `Piece`.
    normal : Array
        Square to the disc [-], shape (3,).
    skin : Mesh or None
        Its surface without the ball, where it was made from a mesh; with more than one piece the
        pieces are the triangles of it.
    """

    points: Array
    ball: float = 0.0
    disc: float = 0.0
    normal: Array = field(default_factory=lambda: np.zeros(3))
    skin: Mesh | None = None

    @cached_property
    def bounds(self) -> tuple[Array, Array]:
        """Lowest and highest corners of the boxes round the pieces [m], each shape (P, 3)."""
        beyond = self.ball + self.disc * np.sqrt(np.maximum(1.0 - self.normal**2, 0.0))
        return self.points.min(axis=1) - beyond, self.points.max(axis=1) + beyond

    @cached_property
    def box(self) -> tuple[Array, Array]:
        """Lowest and highest corner of the box round it all [m], each shape (3,)."""
        low, high = self.bounds
        return low.min(axis=0), high.max(axis=0)

    def piece(self, k: int) -> Piece:
        """One of its pieces."""
        return Piece(self.points[k], self.ball, self.disc, self.normal)


def tube(points: ArrayLike, radius: float) -> Body:
    """Round rod along a chain of points [m], shape (N, 3); one point makes a ball."""
    chain = np.atleast_2d(np.asarray(points, float))
    ends = np.stack([chain[:-1], chain[1:]], axis=1) if len(chain) > 1 else chain[None]
    return Body(ends, radius)


def cylinder(
    centre: ArrayLike, along: ArrayLike, length: float, radius: float, wall: float = 0.0
) -> Body:
    """Cylinder with flat ends, drawn out all round by a wall; a disc is one of no length.

    Parameters
    ----------
    centre, along : array_like
        Its centre [m] and the unit vector of its axis [-], shape (3,).
    length, radius, wall : float
        [m].
    """
    axis = np.asarray(along, float)
    ends = np.asarray(centre, float) + 0.5 * length * np.stack([-axis, axis])
    return Body(ends[None], wall, radius, axis)


def solid(mesh: Mesh, wall: float = 0.0) -> Body:
    """Closed mesh, drawn out all round by a wall [m]."""
    if _is_convex(mesh):
        return Body(mesh.vertices[None], wall, skin=mesh)
    return Body(mesh.vertices[mesh.faces], wall, skin=mesh)


def shell(mesh: Mesh) -> Body:
    """Surface of a mesh without what is in it."""
    return Body(mesh.vertices[mesh.faces])


def _is_convex(mesh: Mesh) -> bool:
    """Whether no corner stands before any face."""
    if len(mesh.vertices) > MOST_CORNERS:
        return False
    normals, corners = face_normals(mesh), mesh.vertices[mesh.faces[:, 0]]
    size = np.linalg.norm(normals, axis=1)
    unit = normals / np.where(size > 0.0, size, 1.0)[:, None]
    before = unit @ mesh.vertices.T - np.einsum("fi,fi->f", unit, corners)[:, None]
    return bool(before.max() <= 1e-9)


@frozen(eq=False)
class Gap:
    """How two bodies stand to each other.

    Attributes
    ----------
    size : float
        Between their surfaces [m]; 0 where they overlap.
    overlap : bool
        Whether they have more in common than a point.
    at : Array
        Midway between the nearest points, or a point of both bodies [m], shape (3,).
    away : Array
        Unit vector from the second body to the first there [-], shape (3,); zero where unknown.
    """

    size: float
    overlap: bool
    at: Array
    away: Array


_ALIKE = 1e-9  # pieces that enter each other by less touch [m]


def gap(one: Body, other: Body, within: float = np.inf) -> Gap | None:
    """Gap between two bodies, or None where it is certainly wider than of interest.

    Parameters
    ----------
    one, other : Body
        The bodies.
    within : float
        Widest gap of interest [m].
    """
    balls = one.ball + other.ball
    best: Gap | None = None
    widest = within
    for bound, k, m in _candidates(one, other, within):
        if bound > widest:
            break
        apart, at_one, at_other = nearest(one.piece(k), other.piece(m))
        if apart - balls > widest:
            continue
        away = (at_one - at_other) / apart if apart else np.zeros(3)
        middle = 0.5 * (at_one - one.ball * away + at_other + other.ball * away)
        widest = max(apart - balls, 0.0)
        best = Gap(widest, apart - balls < -_ALIKE or apart == 0.0, middle, away)
        if best.overlap:
            return best
    return _inside(one, other) or _inside(other, one) or best


def comes_back(rod: Body, apart: float) -> Array | None:
    """Place where a rod along a chain goes through itself [m], shape (3,); None where it does not.

    Parameters
    ----------
    rod : Body
        As `tube` makes it.
    apart : float
        Length along it between two of its straights from which they are compared [m].
    """
    ends = np.cumsum(np.linalg.norm(rod.points[:, -1] - rod.points[:, 0], axis=1))
    starts = np.concatenate([[0.0], ends[:-1]])
    low, high = rod.bounds
    for k in range(len(ends)):
        later = np.flatnonzero(
            (starts > ends[k] + apart) & (_apart((low[k], high[k]), rod.bounds) <= 0.0)
        )
        for other in later.tolist():
            between, at, back = nearest(rod.piece(k), rod.piece(other))
            if between < 2.0 * rod.ball - _ALIKE:
                return 0.5 * (at + back)
    return None


def _inside(one: Body, other: Body) -> Gap | None:
    """Overlap of a body that lies within the skin of another; their surfaces do not meet."""
    if other.skin is None or len(other.points) == 1:
        return None
    point = one.points[0, 0]
    if not contains(other.skin, point[None])[0]:
        return None
    return Gap(0.0, True, point, np.zeros(3))


def _candidates(one: Body, other: Body, within: float) -> Iterator[tuple[float, int, int]]:
    """Pairs of pieces whose boxes stand within a distance, nearest boxes first."""
    near_one = np.flatnonzero(_apart(one.bounds, other.box) <= within)
    near_other = np.flatnonzero(_apart(other.bounds, one.box) <= within)
    low, high = (edge[near_other] for edge in other.bounds)
    found: list[tuple[Array, Indices, Indices]] = []
    step = max(1, BATCH // max(1, len(near_other)))
    for first in range(0, len(near_one), step):
        rows = near_one[first : first + step]
        bound = _apart([edge[rows, None] for edge in one.bounds], (low, high))
        k, m = np.nonzero(bound <= within)
        found.append((bound[k, m], rows[k], near_other[m]))
        within = min(within, _farthest(one, other, found[-1]))
    if not found:
        return
    bounds, firsts, seconds = (np.concatenate(part) for part in zip(*found, strict=True))
    for n in np.argsort(bounds, kind="stable"):
        yield float(bounds[n]), int(firsts[n]), int(seconds[n])


def _farthest(one: Body, other: Body, pairs: tuple[Array, Indices, Indices]) -> float:
    """Distance of two corners that is certainly not less than the gap [m]."""
    _, k, m = pairs
    if not len(k):
        return np.inf
    apart = np.linalg.norm(one.points[k, 0] - other.points[m, 0], axis=1)
    return float(apart.min())


def _apart(box: "tuple[Array, Array] | list[Array]", other: tuple[Array, Array]) -> Array:
    """Distance between boxes, each as its lowest and highest corners [m]."""
    between = np.maximum(np.maximum(box[0] - other[1], other[0] - box[1]), 0.0)
    distance: Array = np.sqrt(np.einsum("...i,...i->...", between, between))
    return distance
