"""Formers and the holes in them: edge distance, what is left of a section, what a line crosses."""

from collections.abc import Iterator

import numpy as np

from plumbing.geometry import passages as holes
from plumbing.geometry.polygon import inside
from plumbing.model.layout import Layout
from plumbing.model.line import Line
from plumbing.model.structure import Former, Passage
from plumbing.model.tank import Corner
from plumbing.physics.arrays import Array
from plumbing.units import show


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


def crossings(points: Array, former: Former) -> tuple[tuple[float, float], ...]:
    """Where a chain of straight pieces goes through the middle plane of a former.

    Parameters
    ----------
    points : Array
        Corner points [m], shape (N, 3).
    former : Former
        The former or rib.

    Returns
    -------
    tuple of pairs
        Points as [y, z] in a former, [x, z] in a rib [m].
    """
    normal, across = (0, (1, 2)) if former.across == "x" else (1, (0, 2))
    beyond = points[:, normal] - former.station
    found = []
    for k in range(len(points) - 1):
        if (beyond[k] > 0.0) != (beyond[k + 1] > 0.0):
            share = beyond[k] / (beyond[k] - beyond[k + 1])
            point = points[k] + share * (points[k + 1] - points[k])
            found.append((float(point[across[0]]), float(point[across[1]])))
    return tuple(found)


def within(former: Former, point: tuple[float, float]) -> bool:
    """Whether a point of a former's plane lies in its outline."""
    return bool(inside(np.array(former.outline), np.array(point)))
