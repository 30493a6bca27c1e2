"""Flat work with holes through it as a closed mesh."""

from collections.abc import Sequence

import numpy as np

from plumbing.geometry.mesh import Mesh, mesh_of
from plumbing.geometry.polygon import signed_area, triangulated
from plumbing.physics.arrays import Array, Flags, Indices

_SLIT = 1e-7  # how far the two sides of a cut stand apart, as a share of the whole


def pierced(
    outline: Array,
    low: float,
    high: float,
    holes: Sequence[tuple[Array, Array]] = (),
) -> Mesh:
    """Plate between two levels of z, with holes that may slant.

    Parameters
    ----------
    outline : Array
        Corners [x, y] in order [m], shape (N, 2); concave is allowed, crossing itself is not.
    low, high : float
        Levels of the two faces [m].
    holes : sequence of (Array, Array)
        Rims of each hole in the low and in the high face [m], shape (F, 2) each, corner over
        corner; within the outline and apart from each other.
    """
    loops = [[_turned(np.asarray(outline, float), 1.0)] * 2]
    loops += [[_turned(rim, -1.0) for rim in hole] for hole in holes]
    faces: list[Indices] = []
    points = []
    first = 0
    half = sum(len(loop[0]) for loop in loops)
    for loop in loops:
        side = first + np.arange(len(loop[0]))
        faces.append(_wall(side, half))
        first += len(side)
    for face, level in enumerate((low, high)):
        flat = [loop[face] for loop in loops]
        caps = filled(flat)
        faces.append(caps + half if face else caps[:, ::-1])
        corners = np.concatenate(flat)
        points.append(np.column_stack([corners, np.full(len(corners), level)]))
    return mesh_of(np.concatenate(points), np.concatenate(faces))


def _turned(loop: Array, sense: float) -> Array:
    """Loop that runs counter-clockwise for 1, clockwise for -1."""
    return loop if signed_area(loop) * sense > 0.0 else loop[::-1]


def _wall(side: Indices, above: int) -> Indices:
    """Triangles between a loop of corners and the one above it, facing right of its way."""
    onward = np.roll(side, -1)
    return np.concatenate(
        [
            np.stack([side, onward, onward + above], axis=1),
            np.stack([side, onward + above, side + above], axis=1),
        ]
    )


def filled(loops: Sequence[Array]) -> Indices:
    """Triangles that fill an outline without its holes.

    Each hole is joined to the outline by a cut to and fro, which leaves one outline; the two
    sides of a cut are held a little apart while it is filled.

    Parameters
    ----------
    loops : sequence of Array
        The outline counter-clockwise and its holes clockwise [m], shape (N, 2) each.

    Returns
    -------
    Indices
        Numbers of the corners of all loops in order, shape (T, 3), counter-clockwise.
    """
    starts = np.cumsum([0, *(len(loop) for loop in loops)])
    order = sorted(range(1, len(loops)), key=lambda k: -float(loops[k][:, 0].max()))
    slit = _SLIT * float(np.ptp(loops[0], axis=0).max())
    numbers, spots = np.arange(starts[1]), loops[0]
    for place, hole in enumerate(order):
        k, m = _cut(spots, [loops[other] for other in order[place:]])
        ring = np.roll(np.arange(starts[hole], starts[hole + 1]), -m)
        rim = np.roll(loops[hole], -m, axis=0)
        way = rim[0] - spots[k]
        aside = slit / np.hypot(*way) * np.array([-way[1], way[0]])
        there, back = [spots[k] + aside, rim[0] + aside], [rim[0] - aside, spots[k] - aside]
        spots = np.concatenate([spots[:k], there, rim[1:], back, spots[k + 1 :]])
        numbers = np.concatenate([numbers[: k + 1], ring, ring[:1], numbers[k:]])
    return numbers[triangulated(spots)]


def _cut(spots: Array, holes: list[Array]) -> tuple[int, int]:
    """Corner of an outline and of the first hole between which a cut crosses nothing."""
    rim = holes[0]
    edges = [np.stack([loop, np.roll(loop, -1, axis=0)]) for loop in (spots, *holes)]
    starts, ends = np.concatenate(edges, axis=1)
    apart = np.linalg.norm(spots[:, None] - rim, axis=2)
    nearest = np.argsort(apart, axis=None, kind="stable")
    for flat in nearest:
        k, m = divmod(int(flat), len(rim))
        if not _crosses(spots[k], rim[m], starts, ends).any():
            return k, m
    return divmod(int(nearest[0]), len(rim))


def _crosses(here: Array, there: Array, starts: Array, ends: Array) -> Flags:
    """Whether edges cross the straight between two points, their ends left out."""

    def side(a: Array, b: Array, c: Array) -> Array:
        turn: Array = (b - a)[..., 0] * (c - a)[..., 1] - (b - a)[..., 1] * (c - a)[..., 0]
        return turn

    between = side(here, there, starts) * side(here, there, ends) < 0.0
    across: Flags = side(starts, ends, here) * side(starts, ends, there) < 0.0
    return between & across
