"""Holes in a former: distance to its edge and to each other, and what they take out of it."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.geometry.distance import point_to_segment
from plumbing.geometry.polygon import inside
from plumbing.physics.arrays import Array


def edge_distance(outline: ArrayLike, centres: ArrayLike) -> Array:
    """Distance from hole centres to the edge of a former [m]; negative outside it.

    Parameters
    ----------
    outline : array_like
        Corners of the former in order [m], shape (N, 2).
    centres : array_like
        Centres of the holes [m], shape (M, 2).

    Returns
    -------
    Array
        Shape (M,), from the centre; the wood left is this less the hole's radius.
    """
    start = np.asarray(outline, float)
    points = np.atleast_2d(np.asarray(centres, float))
    nearest = point_to_segment(points[:, None], start, np.roll(start, -1, axis=0)).min(axis=1)
    signed: Array = np.where(inside(start, points), nearest, -nearest)
    return signed


def pitch(centres: ArrayLike) -> Array:
    """Distances between hole centres [m], shape (M, M); infinite on the diagonal."""
    points = np.atleast_2d(np.asarray(centres, float))
    between: Array = np.linalg.norm(points[:, None] - points, axis=2)
    np.fill_diagonal(between, np.inf)
    return between


def web(outline: ArrayLike, point: ArrayLike, angle: float) -> tuple[float, float]:
    """Stretch of a former along a line through a point in it.

    Parameters
    ----------
    outline : array_like
        Corners of the former in order [m], shape (N, 2).
    point : array_like
        Point in the former [m], shape (2,).
    angle : float
        Direction of the line from the first axis [rad].

    Returns
    -------
    tuple of float
        Where the wood begins and ends along the line, counted from the point [m]; both zero
        outside the former.
    """
    corners = np.asarray(outline, float) - np.asarray(point, float)
    along = np.array([np.cos(angle), np.sin(angle)])
    side = corners @ np.array([-along[1], along[0]])
    place = corners @ along
    next_side, next_place = np.roll(side, -1), np.roll(place, -1)
    met = (side > 0.0) != (next_side > 0.0)
    gap = np.where(met, side - next_side, 1.0)
    crossings = np.sort((place + side / gap * (next_place - place))[met])
    for begin, end in zip(crossings[::2], crossings[1::2], strict=True):
        if begin <= 0.0 <= end:
            return float(begin), float(end)
    return 0.0, 0.0


def share_removed(
    outline: ArrayLike,
    centres: ArrayLike,
    diameters: ArrayLike,
    point: ArrayLike,
    angle: float,
) -> float:
    """Share of a former's depth that holes take at a section [-]; 1 outside the former.

    Parameters
    ----------
    outline : array_like
        Corners of the former in order [m], shape (N, 2).
    centres, diameters : array_like
        The holes [m], shapes (M, 2) and (M,).
    point : array_like
        Point of the section, in the former [m], shape (2,).
    angle : float
        Direction of the section from the first axis [rad].
    """
    begin, end = web(outline, point, angle)
    if end <= begin:
        return 1.0
    offset = np.atleast_2d(np.asarray(centres, float)) - np.asarray(point, float)
    along = np.array([np.cos(angle), np.sin(angle)])
    aside = offset @ np.array([-along[1], along[0]])
    radii = 0.5 * np.asarray(diameters, float)
    half = np.sqrt(np.maximum(radii**2 - aside**2, 0.0))
    middle = offset @ along
    removed, reached = 0.0, begin
    for k in np.argsort(middle - half):
        low, high = max(middle[k] - half[k], reached), min(middle[k] + half[k], end)
        if high > low:
            removed, reached = removed + high - low, high
    return float(removed / (end - begin))
