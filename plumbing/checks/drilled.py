"""Formers and the holes in them: edge distance, what is left of a section, what a line crosses."""

from collections.abc import Iterator

import numpy as np

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
    start = np.array(former.outline)
    way = np.roll(start, -1, axis=0) - start
    to = np.array(passage.at) - start
    length = np.maximum(np.einsum("ni,ni->n", way, way), 1e-18)
    share = np.clip(np.einsum("ni,ni->n", to, way) / length, 0.0, 1.0)
    gap = float(np.linalg.norm(to - share[:, None] * way, axis=1).min())
    return gap if inside(start, np.array(passage.at)) else -gap


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
    first = "y" if former.across == "x" else "x"
    worst = (0.0, "")
    for passage in former.passages.values():
        for fixed, axis in ((0, first), (1, "z")):
            position = passage.at[fixed]
            depth = _depth(np.array(former.outline), fixed, position)
            gone = sum(_chord(hole, fixed, position) for hole in former.passages.values())
            share = min(gone / depth, 1.0) if depth > 0.0 else 1.0
            if share > worst[0]:
                worst = (share, f"{axis} = {show(position, 'length')}")
    return worst


def _depth(outline: Array, fixed: int, position: float) -> float:
    """Length of the line at a position that lies inside an outline [m]."""
    following = np.roll(outline, -1, axis=0)
    a, b = outline[:, fixed], following[:, fixed]
    cut = (a > position) != (b > position)
    share = (position - a[cut]) / (b[cut] - a[cut])
    other = 1 - fixed
    ends = np.sort(outline[cut, other] + share * (following[cut, other] - outline[cut, other]))
    return float((ends[1::2] - ends[::2]).sum())


def _chord(hole: Passage, fixed: int, position: float) -> float:
    radius, off = 0.5 * hole.diameter, hole.at[fixed] - position
    return float(2.0 * np.sqrt(max(radius**2 - off**2, 0.0)))


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
