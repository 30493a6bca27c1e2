"""Formers and the holes in them: edge distance, what is left of a section, what goes through."""

import math
from collections.abc import Iterator

import numpy as np

from plumbing.frozen import frozen
from plumbing.geometry import passages as holes
from plumbing.geometry.polygon import inside
from plumbing.geometry.route import filleted, sampled
from plumbing.model.fields import Vector
from plumbing.model.layout import Layout
from plumbing.model.line import Line
from plumbing.model.structure import Former, Passage
from plumbing.model.tank import Corner
from plumbing.network.lengths import route_points
from plumbing.physics.arrays import Array
from plumbing.units import show

_STEP = 1e-3  # of the curve looked at [m]


def passages(layout: Layout) -> Iterator[tuple[Former, Passage]]:
    """Every passage with its former."""
    for former in layout.formers.values():
        for passage in former.passages.values():
            yield former, passage


def threaded(layout: Layout) -> Iterator[tuple[Former, Passage, tuple[Line, ...]]]:
    """Every passage with its former and the lines that name it."""
    for former, passage in passages(layout):
        name = f"{former.name}.{passage.name}"
        yield former, passage, tuple(x for x in layout.lines.values() if name in x.through)


def edge_distance(former: Former, passage: Passage) -> float:
    """Distance from a passage's centre to the nearest edge of its former [m].

    Negative where the centre lies outside the outline.
    """
    return float(holes.edge_distance(former.outline, [passage.at])[0])


def box_distance(box: tuple[Corner, Corner], passage: Passage) -> float:
    """Distance from a passage's centre to a box given by two opposite corners [m]."""
    low, high = np.sort(np.array(box), axis=0)
    centre = np.array(passage.at)
    outside = np.maximum(np.maximum(low - centre, centre - high), 0.0)
    return float(np.linalg.norm(outside))


def worst_section(former: Former) -> tuple[float, str]:
    """Largest share of a former's web that its passages take at one section, and where.

    Sections are taken through the centre of each passage, upright and level.

    Returns
    -------
    tuple of float and str
        Share of the web's depth [-], and the section in words.
    """
    found = list(former.passages.values())
    centres, diameters = [hole.at for hole in found], [hole.diameter for hole in found]
    first = "y" if former.across == "x" else "x"
    worst = (0.0, "")
    for hole in found:
        for axis, place, angle in ((first, hole.at[0], 0.5 * np.pi), ("z", hole.at[1], 0.0)):
            share = holes.share_removed(former.outline, centres, diameters, hole.at, angle)
            if share > worst[0]:
                worst = (share, f"{axis} = {show(place, 'length')}")
    return worst


def within(former: Former, point: tuple[float, float]) -> bool:
    """Whether a point of a former's plane lies in its outline."""
    return bool(inside(np.array(former.outline), np.array(point)))


def in_passage(former: Former, point: Array) -> bool:
    """Whether a point (3,) [m] seen square to a former lies in one of its passages."""
    flat = axes_of(former)[:2] @ point
    return any(math.dist(flat, hole.at) < 0.5 * hole.diameter for hole in former.passages.values())


@frozen
class Piercing:
    """One place where a line goes through the middle plane of a former.

    Attributes
    ----------
    at : tuple of float
        As [y, z] in a former, [x, z] in a rib [m].
    way : tuple of float
        Unit vector along the line there [-].
    angle : float
        Between tube and wall [rad]: half pi is square.
    along : float
        From the line's start, along it [m].
    """

    at: tuple[float, float]
    way: Vector
    angle: float
    along: float


def axes_of(former: Former) -> Array:
    """Axes to the right, up and towards who looks at a former in drawings [-], shape (3, 3).

    A former is seen from behind, a rib from the port side.
    """
    if former.across == "x":
        return np.array([[0.0, 1.0, 0.0], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]])
    return np.array([[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, -1.0, 0.0]])


def piercings(layout: Layout, line: Line, former: Former) -> tuple[Piercing, ...]:
    """Places where a line with its bends goes through a former's plane, from its start on."""
    radius = line.bend_radius or layout.tube_of(line).bend_radius or 0.0
    points = sampled(filleted(np.array(route_points(layout, line)), radius), _STEP)
    steps = np.diff(points, axis=0)
    sizes = np.linalg.norm(steps, axis=1)
    reached = np.concatenate([[0.0], np.cumsum(sizes)])
    normal = 0 if former.across == "x" else 1
    found = []
    for k, share, at in _met(points, former):
        x, y, z = (steps[k] / sizes[k]).tolist()
        angle = math.asin(min(abs((x, y)[normal]), 1.0))
        found.append(Piercing(at, (x, y, z), angle, float(reached[k] + share * sizes[k])))
    return tuple(found)


def _met(points: Array, former: Former) -> Iterator[tuple[int, float, tuple[float, float]]]:
    """Piece of a chain (N, 3) that goes through the plane, share of it passed, and the place."""
    normal, across = (0, (1, 2)) if former.across == "x" else (1, (0, 2))
    beyond = points[:, normal] - former.station
    for k in np.flatnonzero((beyond[:-1] > 0.0) != (beyond[1:] > 0.0)).tolist():
        share = float(beyond[k] / (beyond[k] - beyond[k + 1]))
        point = points[k] + share * (points[k + 1] - points[k])
        yield k, share, (float(point[across[0]]), float(point[across[1]]))


def at_words(former: Former, at: tuple[float, float]) -> str:
    """A place on a former in words, such as `y = 12 mm, z = 110 mm`."""
    first = "y" if former.across == "x" else "x"
    return f"{first} = {show(at[0], 'length')}, z = {show(at[1], 'length')}"


def nearest(found: tuple[Piercing, ...], at: tuple[float, float]) -> Piercing | None:
    """Piercing nearest to a passage; None where there is none."""
    return min(found, key=lambda one: math.dist(one.at, at), default=None)
