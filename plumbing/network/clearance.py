"""How far lines, points and tanks stand from zones."""

from collections.abc import Iterator
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from plumbing.geometry.attitude import rotation
from plumbing.geometry.distance import (
    Distance,
    encloses,
    least_along,
    least_over,
    point_to_box,
    point_to_cylinder,
    point_to_segment,
)
from plumbing.model.layout import Layout
from plumbing.model.line import Line
from plumbing.model.meshes import tank_mesh
from plumbing.model.structure import Disc, Run, Zone
from plumbing.model.tank import Box, Cylinder, Tank
from plumbing.network.lengths import route_points
from plumbing.physics.arrays import Array

_TOUCHING = 1e-9  # [m]; nearer is rounding


def line_clearance(layout: Layout, line: Line, zone: Zone) -> float:
    """Shortest distance from the outside of a line's tube to a zone [m]."""
    radius = 0.5 * layout.tube_of(line).outside_diameter
    return max(clearance(route_points(layout, line), zone) - radius, 0.0)


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
    return _settled(min(least_along(distance, first, last).min() for distance in _distances(zone)))


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
    if any(encloses(corners, point) for point in _points_of(zone)):
        return 0.0
    return _settled(min(least_over(distance, corners, within) for distance in _distances(zone)))


def _settled(gap: float) -> float:
    return 0.0 if gap < _TOUCHING else float(gap)


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
