"""Basins of a solid: where fuel gathers under a direction of gravity, and what parts them.

The basins of one direction and the ridges between them are a tree. Each basin is filled from its
lowest corner to its ridge, the lowest place over which it spills; there it meets another, and both
go on as one. That is exact for any closed mesh, however it is made, and needs no cutting of the
solid into cells: a part of the solid below a level is bounded by the faces that begin in it.
"""

from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from plumbing.frozen import frozen
from plumbing.geometry import descent
from plumbing.geometry.below_points import corner_below, face_below
from plumbing.geometry.descent import Hollows, Landscape, landscape
from plumbing.geometry.mesh import Mesh
from plumbing.geometry.parted import Passages
from plumbing.physics.arrays import Array, Flags, Indices

BATCH = 150_000  # pairs of direction and corner worked on at a time
NO_NODE = -1
_LEVEL = 1e-9  # share of its size by which a solid is level
_FLAT = 1e-6  # an edge counts as convex up to that [rad]


@frozen(eq=False)
class Basins:
    """Trees of basins for D directions of gravity.

    A tree of K basins has N = 2 K - 1 nodes: its basins first, then what they become where they
    meet, lowest ridge first; the last of a direction is the whole solid. A direction with fewer
    basins has nodes that are nothing.

    Attributes
    ----------
    mesh : Mesh
        The solid, V corners, F faces.
    down : Array
        Unit vectors along effective gravity, shape (D, 3).
    count : Indices
        Number of basins, shape (D,).
    of : Indices
        Basin that each corner sinks into, shape (D, V).
    lowest : Indices
        Lowest corner of each basin, shape (D, K); 0 for none.
    low, high : Array
        Heights at which each node begins, and spills over its ridge, shape (D, N) [m]; infinite
        for none, `high` of the whole solid its top.
    up : Indices
        Node that each goes on in, shape (D, N); -1 for the whole solid and none.
    over : Indices
        Basin that each spills into, shape (D, N); -1 for the whole solid and none.
    inside : Flags
        Which basins are within which nodes, shape (D, N, K).
    least : float
        Depth up to which a hollow is not a basin of its own [m].
    passages : Passages or None
        Holes between pieces of the solid.
    """

    mesh: Mesh
    down: Array
    count: Indices
    of: Indices
    lowest: Indices
    low: Array
    high: Array
    up: Indices
    over: Indices
    inside: Flags
    least: float
    passages: Passages | None

    @property
    def most(self) -> int:
        """Largest number of basins K."""
        return int(self.inside.shape[2])

    def basin_at(self, points: ArrayLike, index: Indices, above: float = 0.0) -> Indices:
        """Basin into which liquid at points in the solid sinks, shape (S,).

        Parameters
        ----------
        points : array_like
            Points [m], shape (S, 3).
        index : Indices
            Direction of each, shape (S,).
        above : float
            As for `face_below`; a point with no floor below it belongs to its nearest corner.
        """
        at = np.asarray(points, float)
        corner = corner_below(self.mesh, at, self.down[index], above)
        return np.asarray(self.of[index, corner])


def basins(
    mesh: Mesh, down: ArrayLike, least: float = 0.0, passages: Passages | None = None
) -> Basins:
    """Trees of basins of a mesh.

    Parameters
    ----------
    mesh : Mesh
        Closed, outward-facing solid.
    down : array_like
        Unit vectors along effective gravity, shape (D, 3) or (3,).
    least : float
        Depth up to which a hollow is not a basin of its own [m].
    passages : Passages, optional
        Holes between pieces of the solid, which are ways as the ridges are. Pieces that are joined
        in no other way are one only when they are full.
    """
    directions = np.atleast_2d(np.asarray(down, float))
    land = _surveyed(mesh)
    some = max(1, BATCH // len(land.mesh.vertices))
    found = [
        _hollows(land, directions[first : first + some], least, passages)
        for first in range(0, len(directions), some)
    ]
    most = max(int(np.bincount(one.row).max()) for one, _ in found)
    trees = [_ordered(one, top, most) for one, top in found]
    arrays = {name: np.concatenate([tree[name] for tree in trees]) for name in trees[0]}
    return Basins(land.mesh, directions, **arrays, least=least, passages=passages)


def is_plain(mesh: Mesh) -> bool:
    """Whether a solid has one basin under every direction because it is convex."""
    return _surveyed(mesh).widest <= np.pi + _FLAT


@lru_cache(maxsize=32)
def _surveyed(mesh: Mesh) -> Landscape:
    return landscape(_used(mesh))


def _used(mesh: Mesh) -> Mesh:
    """The same without corners that no face uses."""
    used, faces = np.unique(mesh.faces, return_inverse=True)
    if len(used) == len(mesh.vertices):
        return mesh
    return Mesh(mesh.vertices[used], np.asarray(faces).reshape(-1, 3))


def _hollows(
    land: Landscape, down: Array, least: float, passages: Passages | None
) -> tuple[Hollows, Array]:
    """Hollows that are basins, and the height of the top of the solid (D,) [m]."""
    heights = -(down @ land.mesh.vertices.T)
    close = _LEVEL * float(np.linalg.norm(land.mesh.size))
    found = descent.hollows(land, heights)
    if passages is not None:
        found = _through(land, found, down, heights.max(axis=1), passages)
    found = descent.without_shallow(found, max(least, close))
    hangs = np.flatnonzero(descent.hanging(land, found, heights, close))
    if hangs.size:
        found = descent.with_links(found, hangs, _under(land.mesh, found, hangs, down, close))
        found = descent.without_shallow(found, max(least, close))
    return found, heights.max(axis=1)


def _through(
    land: Landscape, found: Hollows, down: Array, top: Array, passages: Passages
) -> Hollows:
    """The same with ways over the sills of the passages, and between all pieces at the top."""
    count, holes = len(down), len(passages.radius)
    row, each = np.repeat(np.arange(count), holes), np.tile(np.arange(holes), count)
    ends = [corner_below(land.mesh, side[each], down[row]) for side in passages.sides]
    pair = np.stack([found.of[row, end] for end in ends], axis=1)
    sill = (passages.middle(down) - passages.half(down)).ravel()
    ridge = np.maximum(sill, found.bottom[pair].max(axis=1))
    apart = descent.pieces(land)
    beside = np.stack([found.of[:, apart[:-1]], found.of[:, apart[1:]]], axis=2).reshape(-1, 2)
    highest = np.repeat(top, len(apart) - 1)
    pairs, ridges = np.concatenate([pair, beside]), np.concatenate([ridge, highest])
    return descent.with_ways(found, pairs, np.minimum(ridges, top[found.row[pairs[:, 0]]]))


def _under(mesh: Mesh, found: Hollows, hangs: Indices, down: Array, close: float) -> Indices:
    """Hollow that lies straight below each of some that hang, shape (H,)."""
    row = found.row[hangs]
    face = face_below(mesh, mesh.vertices[found.lowest[hangs]], down[row], -close)
    corners = mesh.faces[face]
    heights = -np.einsum("hci,hi->hc", mesh.vertices[corners], down[row])
    lowest = corners[np.arange(len(row)), heights.argmin(axis=1)]
    return np.where(face >= 0, found.of[row, lowest], hangs)


def _ordered(found: Hollows, top: Array, most: int) -> dict[str, Any]:
    """Trees from hollows and the edges between them, lowest edge first, room for `most` basins."""
    count, rows = np.bincount(found.row, minlength=len(top)), len(top)
    first = np.concatenate([[0], np.cumsum(count)])
    by = np.lexsort((found.bottom, found.row))
    number = np.empty_like(by)
    number[by] = np.arange(len(by)) - first[found.row[by]]
    nodes = 2 * most - 1
    low, high = np.full((rows, nodes), np.inf), np.full((rows, nodes), np.inf)
    up, over = np.full((rows, nodes), NO_NODE), np.full((rows, nodes), NO_NODE)
    inside = np.zeros((rows, nodes, most), dtype=bool)
    lowest = np.zeros((rows, most), dtype=np.intp)
    low[found.row, number], lowest[found.row, number] = found.bottom, found.lowest
    inside[found.row, number, number] = True
    edges = np.argsort(found.row[found.pair[:, 0]], kind="stable")
    ends = np.searchsorted(found.row[found.pair[edges, 0]], np.arange(rows + 1))
    pair, ridge = number[found.pair], found.ridge
    for row in np.flatnonzero(count > 1):
        some = edges[ends[row] : ends[row + 1]]
        tree = (low[row], high[row], up[row], over[row], inside[row])
        _grown(pair[some].tolist(), ridge[some].tolist(), int(count[row]), *tree)
    last = np.where(count > 1, most + count - 2, 0)
    high[np.arange(rows), last] = top
    of = number[found.of]
    return dict(
        count=count, of=of, lowest=lowest, low=low, high=high, up=up, over=over, inside=inside
    )


def _grown(
    pairs: list[list[int]],
    ridges: list[float],
    count: int,
    low: Array,
    high: Array,
    up: Indices,
    over: Indices,
    inside: Flags,
) -> None:
    """Join the basins of one direction over their ridges, lowest first; the arrays receive it."""
    node, fresh = list(range(count)), inside.shape[1]
    for (one, other), ridge in zip(pairs, ridges, strict=True):
        a, b = node[one], node[other]
        if a == b:
            continue
        low[fresh], high[a], high[b] = ridge, ridge, ridge
        up[a], up[b], over[a], over[b] = fresh, fresh, other, one
        inside[fresh] = inside[a] | inside[b]
        node = [fresh if place in (a, b) else place for place in node]
        fresh += 1
