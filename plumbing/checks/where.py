"""How far lines, points and tanks stand from zones.

Distance to a convex body is a convex function, along a segment and over a triangle alike, so a
golden-section search finds the nearest point exactly; nothing is sampled.
"""

from collections.abc import Callable, Iterator
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from plumbing.geometry.attitude import rotation
from plumbing.geometry.distance import point_to_box, point_to_cylinder, point_to_segment
from plumbing.model.layout import Layout
from plumbing.model.line import Line
from plumbing.model.meshes import tank_mesh
from plumbing.model.structure import Disc, Run, Zone
from plumbing.model.tank import Box, Cylinder, Tank
from plumbing.network.lengths import route_points
from plumbing.physics.arrays import Array

Distance = Callable[[Array], Array]

_GOLDEN = (np.sqrt(5.0) - 1.0) / 2.0
_STEPS = 32  # 0.618**32: a metre is found to a micrometre
_TOUCHING = 1e-9  # [m]; nearer is rounding


def line_points(layout: Layout, line: Line) -> Array:
    """Corner points of a line from port to port [m], shape (N, 3), N >= 2."""
    return np.array(route_points(layout, line), dtype=np.float64)


def line_clearance(layout: Layout, line: Line, zone: Zone) -> float:
    """Shortest distance from the outside of a line's tube to a zone [m]."""
    radius = 0.5 * layout.tube_of(line).outside_diameter
    return max(clearance(line_points(layout, line), zone) - radius, 0.0)


def gap_to_plane(points: ArrayLike, zone: Zone) -> float | None:
    """Distance of points, or of what they span, to the plane of a disc [m].

    Returns
    -------
    float or None
        0 where the plane passes between them; None where the zone is no disc.
    """
    if not isinstance(zone.body, Disc):
        return None
    axis = "xyz".index(zone.body.axis)
    beyond = np.atleast_2d(np.asarray(points, float))[:, axis] - zone.body.at[axis]
    return float(max(beyond.min(), -beyond.max(), 0.0))


def clearance(points: ArrayLike, zone: Zone) -> float:
    """Shortest distance from a chain of straight pieces to a zone.

    Parameters
    ----------
    points : array_like
        Corner points [m], shape (N, 3); one point alone is allowed.
    zone : Zone
        The zone.

    Returns
    -------
    float
        Distance to its surface [m]; 0 where the chain enters it.
    """
    corners = np.atleast_2d(np.asarray(points, float))
    return _chain_clearance(tuple(map(tuple, corners.tolist())), zone)


@lru_cache(maxsize=4096)  # a remedy moves few lines, and all are asked about again
def _chain_clearance(points: tuple[tuple[float, ...], ...], zone: Zone) -> float:
    corners = np.array(points)
    first, last = (corners[:-1], corners[1:]) if len(corners) > 1 else (corners, corners)
    return _settled(min(_along(distance, first, last).min() for distance in _distances(zone)))


def tank_clearance(tank: Tank, zone: Zone, within: float = np.inf) -> float:
    """Shortest distance from the inner surface of a tank to a zone.

    Parameters
    ----------
    tank : Tank
        The tank.
    zone : Zone
        The zone.
    within : float
        Distance of interest [m]: where the zone is certainly farther, that is all that is found.

    Returns
    -------
    float
        Distance [m], 0 where they meet; a lower bound above `within` where that is enough.
    """
    mesh = tank_mesh(tank)
    corners = mesh.vertices[mesh.faces]
    if any(_encloses(corners, point) for point in _points_of(zone)):
        return 0.0
    return _settled(min(_over(distance, corners, within) for distance in _distances(zone)))


def _settled(gap: float) -> float:
    return 0.0 if gap < _TOUCHING else float(gap)


def _along(distance: Distance, first: Array, last: Array) -> Array:
    """Smallest distance on each segment [m], shape (S,)."""

    def at(share: Array) -> Array:
        return distance(first + share[:, None] * (last - first))

    ends = np.minimum(distance(first), distance(last))
    return np.minimum(ends, _smallest(at, len(first)))


def _over(distance: Distance, corners: Array, within: float) -> float:
    """Smallest distance on any triangle [m]; corners have shape (F, 3, 3)."""
    centre = corners.mean(axis=1)
    reach = np.linalg.norm(corners - centre[:, None], axis=2).max(axis=1)
    far = distance(centre)
    at_least = float((far - reach).min())
    if at_least > within:
        return at_least
    near = corners[far - reach <= min(far.min(), distance(corners).min())]
    a, b, c = near[:, 0], near[:, 1], near[:, 2]
    inner = _smallest(lambda share: _along(distance, a + share[:, None] * (b - a), c), len(near))
    edges = np.minimum(_along(distance, a, c), _along(distance, b, c))
    return float(np.minimum(inner, edges).min())


def _smallest(at: Callable[[Array], Array], count: int) -> Array:
    """Smallest value of convex functions of a share 0 to 1, all searched together."""
    low, high = np.zeros(count), np.ones(count)
    for _ in range(_STEPS):
        step = _GOLDEN * (high - low)
        left, right = high - step, low + step
        falls = at(left) > at(right)
        low, high = np.where(falls, left, low), np.where(falls, high, right)
    return at(0.5 * (low + high))


def _distances(zone: Zone) -> Iterator[Distance]:
    """Distance functions of the convex bodies a zone is made of."""
    body = zone.body
    if isinstance(body, Run):
        points = np.array(body.points)
        ends = points[1:] if len(points) > 1 else points
        for first, last in zip(points, ends, strict=False):
            yield _to_rod(first, last, 0.5 * body.diameter)
        return
    centre = np.array(body.at)
    if isinstance(body, Disc):
        radius, along = body.radius, body.axis
        yield lambda points: point_to_cylinder(points - centre, 0.0, radius, along)
        return
    turn = rotation(body.roll, body.pitch, body.yaw)
    if isinstance(body, Cylinder):
        length, radius, along = body.length, 0.5 * body.diameter, body.axis
        yield lambda points: point_to_cylinder((points - centre) @ turn, length, radius, along)
    else:
        size = body.size
        yield lambda points: point_to_box((points - centre) @ turn, size)


def _to_rod(first: Array, last: Array, radius: float) -> Distance:
    return lambda points: np.maximum(point_to_segment(points, first, last) - radius, 0.0)


def _points_of(zone: Zone) -> tuple[ArrayLike, ...]:
    """Points that certainly lie in a zone."""
    return zone.body.points if isinstance(zone.body, Run) else (zone.body.at,)


def _encloses(corners: Array, point: ArrayLike) -> bool:
    """Whether a closed surface of triangles goes round a point: solid angle not nought.

    References
    ----------
    van Oosterom, A. and Strackee, J. (1983), solid angle of a plane triangle.
    """
    a, b, c = np.moveaxis(corners - np.asarray(point, float), 1, 0)
    sizes = [np.linalg.norm(side, axis=1) for side in (a, b, c)]
    volume = np.einsum("fi,fi->f", a, np.cross(b, c))
    (la, lb, lc) = sizes
    ab, bc, ca = ((p * q).sum(axis=1) for p, q in ((a, b), (b, c), (c, a)))
    angle = 2.0 * np.arctan2(volume, la * lb * lc + ab * lc + bc * la + ca * lb)
    return bool(abs(angle.sum()) > 2.0 * np.pi)


def stands_over(tank: Tank, zone: Zone) -> bool:
    """Whether what drips from a tank falls on a zone; their outlines are taken as boxes."""
    low, high = tank_mesh(tank).bounds
    under, over = _bounds(zone)
    beside = np.any(high[:2] < under[:2]) or np.any(over[:2] < low[:2])
    return bool(not beside and 0.5 * (under[2] + over[2]) < low[2])


def _bounds(zone: Zone) -> tuple[Array, Array]:
    """Lowest and highest corner of the box round a zone [m]."""
    body = zone.body
    if isinstance(body, Run):
        points = np.array(body.points)
        half = np.full(3, 0.5 * body.diameter)
        return points.min(axis=0) - half, points.max(axis=0) + half
    if isinstance(body, Disc):
        half = np.full(3, body.radius)
    else:
        size = np.array(body.size) if isinstance(body, Box) else np.full(3, body.diameter)
        if isinstance(body, Cylinder):
            size["xyz".index(body.axis)] = body.length
        half = 0.5 * np.abs(rotation(body.roll, body.pitch, body.yaw)) @ size
    centre = np.array(body.at)
    return centre - half, centre + half
