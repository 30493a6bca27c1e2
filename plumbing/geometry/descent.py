"""A closed mesh as a landscape: where its surface sinks to, and how high the ways between are.

A height is measured against effective gravity. Every corner of the mesh is led down from lowest
neighbour to lowest neighbour until it can sink no further; corners that end in one place are one
hollow. Two hollows meet first at the lowest edge between them. All directions at once; hollows are
numbered through all of them.
"""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from plumbing.frozen import frozen
from plumbing.geometry.mesh import Mesh, face_normals
from plumbing.physics.arrays import Array, Flags, Indices


@frozen(eq=False)
class Landscape:
    """The corners of a mesh and what joins them.

    Attributes
    ----------
    mesh : Mesh
        Closed, outward-facing solid, V corners.
    edges : Indices
        Corners that each edge joins, shape (E, 2).
    neighbours, first : Indices
        The neighbours of all corners, one corner after the other, and where each begins.
    angle : Array
        Solid angle that the solid fills at each corner [sr], shape (V,).
    widest : float
        Largest angle that the solid fills at an edge [rad]; pi for a convex one.
    """

    mesh: Mesh
    edges: Indices
    neighbours: Indices
    first: Indices
    angle: Array
    widest: float


def landscape(mesh: Mesh) -> Landscape:
    """Edges, neighbours and solid angles of a closed mesh, corners in m; each is used by a face."""
    sides = mesh.faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    owner = np.repeat(np.arange(len(mesh.faces)), 3)
    order = np.lexsort((sides.max(axis=1), sides.min(axis=1)))
    pairs = np.sort(sides[order], axis=1)
    fresh = np.concatenate([[True], (pairs[1:] != pairs[:-1]).any(axis=1)])
    edges = pairs[fresh]
    both = np.concatenate([edges, edges[:, ::-1]])
    both = both[np.argsort(both[:, 0], kind="stable")]
    first = np.searchsorted(both[:, 0], np.arange(len(mesh.vertices)))
    angle, widest = _angles(mesh, sides, owner)
    return Landscape(mesh, edges, both[:, 1].copy(), first, angle, widest)


def _angles(mesh: Mesh, sides: Indices, owner: Indices) -> tuple[Array, float]:
    """Solid angle at each corner [sr] and the largest angle at an edge [rad].

    The solid angle is that of a spherical polygon whose corners are the edges.
    """
    count = len(mesh.vertices)
    normals = face_normals(mesh)
    length = np.linalg.norm(normals, axis=1)
    unit = normals / np.where(length > 0.0, length, 1.0)[:, None]
    forth = np.argsort(sides[:, 0] * count + sides[:, 1])
    back = np.argsort(sides[:, 1] * count + sides[:, 0])
    here, there = unit[owner[forth]], unit[owner[back]]
    along = mesh.vertices[sides[forth, 1]] - mesh.vertices[sides[forth, 0]]
    along = along / np.maximum(np.linalg.norm(along, axis=1, keepdims=True), 1e-300)
    turn = np.einsum("ei,ei->e", np.cross(here, there), along)
    between = np.pi - np.arctan2(turn, np.einsum("ei,ei->e", here, there))
    around = np.bincount(sides[forth, 0], weights=between, minlength=count)
    faces = np.bincount(mesh.faces.ravel(), minlength=count)
    return around - np.pi * (faces - 2.0), float(between.max())


@frozen(eq=False)
class Hollows:
    """L hollows of D directions, and the lowest ways over M edges between them.

    Attributes
    ----------
    of : Indices
        Hollow in which each corner lies, shape (D, V).
    row : Indices
        Direction of each hollow, shape (L,).
    lowest : Indices
        Its lowest corner, shape (L,).
    bottom : Array
        Height of that [m], shape (L,).
    pair : Indices
        Hollows that an edge joins, shape (M, 2); lowest edge first.
    ridge : Array
        Height at which it joins them [m], shape (M,), rising.
    """

    of: Indices
    row: Indices
    lowest: Indices
    bottom: Array
    pair: Indices
    ridge: Array


def hollows(land: Landscape, heights: Array) -> Hollows:
    """Hollows of a landscape, for heights of its corners in many directions (D, V) [m]."""
    count, corners = heights.shape
    order = np.argsort(heights, axis=1, kind="stable").astype(np.int32)
    rank = np.empty_like(order)
    np.put_along_axis(rank, order, np.arange(corners, dtype=np.int32)[None, :], axis=1)
    lower = np.minimum.reduceat(rank[:, land.neighbours], land.first, axis=1)
    start = (np.arange(count) * corners)[:, None]
    sinks = (np.take_along_axis(order, np.minimum(lower, rank), axis=1) + start).ravel()
    while True:
        deeper = sinks[sinks]
        if np.array_equal(deeper, sinks):
            break
        sinks = deeper
    ends = np.flatnonzero(sinks == np.arange(len(sinks)))
    number = np.zeros(len(sinks), dtype=np.intp)
    number[ends] = np.arange(len(ends))
    of = number[sinks].reshape(count, corners)
    pair, top = _edges_between(land, of, rank)
    row, lowest = ends // corners, ends % corners
    ridge = heights.ravel()[order.ravel()[top] + (top // corners) * corners]
    by = np.lexsort((pair[:, 1], pair[:, 0], top % corners))
    return Hollows(of, row, lowest, heights[row, lowest], pair[by], ridge[by])


def _edges_between(
    land: Landscape, of: Indices, rank: NDArray[np.int32]
) -> tuple[Indices, Indices]:
    """Pairs of hollows that edges join (M, 2), and the flat place of the higher end in order."""
    corners = of.shape[1]
    one, other = of[:, land.edges[:, 0]], of[:, land.edges[:, 1]]
    row, edge = np.nonzero(one != other)
    ends = rank[row[:, None], land.edges[edge]].max(axis=1).astype(np.intp)
    pair = np.sort(np.stack([one[row, edge], other[row, edge]], axis=1), axis=1)
    key = pair[:, 0] * (int(of.max()) + 1) + pair[:, 1]
    by = np.lexsort((ends, key))
    first = np.concatenate([[True], np.diff(key[by]) > 0])[: len(by)]
    kept = by[first]
    return pair[kept], ends[kept] + row[kept] * corners


def without_shallow(found: Hollows, least: float) -> Hollows:
    """The same with every hollow less deep than `least` [m] made one with its neighbour."""
    while True:
        lowest = _lowest_edge(found)
        leads = lowest < len(found.ridge)
        edge = np.where(leads, lowest, 0)
        if not leads.any():
            return found
        shallow = leads & (found.ridge[edge] - found.bottom <= least)
        if not shallow.any():
            return found
        own = np.arange(len(found.row))
        over = np.where(shallow, found.pair[edge].sum(axis=1) - own, own)
        mutual = (over[over] == own) & (over != own)
        before = (found.bottom < found.bottom[over]) | (
            (found.bottom == found.bottom[over]) & (own < over)
        )
        found = joined(found, np.where(mutual & before, own, over))


def _lowest_edge(found: Hollows) -> Indices:
    """Lowest edge out of each hollow, shape (L,); M where there is none."""
    count = len(found.ridge)
    lowest = np.full(len(found.row), count)
    for side in found.pair.T:
        np.minimum.at(lowest, side, np.arange(count))
    return lowest


def joined(found: Hollows, into: Indices) -> Hollows:
    """The same with each hollow made one with another, or itself, shape (L,)."""
    while not np.array_equal(into[into], into):
        into = into[into]
    deepest = np.lexsort((found.bottom, into))
    first = np.concatenate([[True], np.diff(into[deepest]) > 0])
    kept = deepest[first]
    number = np.zeros(len(into), dtype=np.intp)
    number[into[kept]] = np.arange(len(kept))
    place = number[into]
    pair = np.sort(place[found.pair], axis=1)
    apart = pair[:, 0] != pair[:, 1]
    return Hollows(
        place[found.of],
        found.row[kept],
        found.lowest[kept],
        found.bottom[kept],
        pair[apart],
        found.ridge[apart],
    )


def hanging(land: Landscape, found: Hollows, heights: Array, close: float) -> Flags:
    """Hollows under whose lowest corners lies the solid itself, shape (L,).

    The underside of a body inside the tank, or a dent that hangs from its roof, is a low place of
    the surface and no place where fuel gathers. At its lowest corners the solid fills more than
    half of the space. `close` is a height that counts as none [m].
    """
    several = np.bincount(found.row, minlength=len(heights)) > 1
    rows = np.flatnonzero(several)
    at = heights[rows] <= found.bottom[found.of[rows]] + close
    row, corner = np.nonzero(at)
    widest = np.zeros(len(found.row))
    np.maximum.at(widest, found.of[rows[row], corner], land.angle[corner])
    return np.asarray(widest > 2.0 * np.pi + 1e-6)


def with_links(found: Hollows, hangs: Indices, below: Indices) -> Hollows:
    """The same where hanging hollows are joined to the hollow they hang over, both shape (H,)."""
    into = np.arange(len(found.row))
    into[hangs] = below
    bottom = found.bottom.copy()
    bottom[hangs] = np.inf
    return joined(replace(found, bottom=bottom), into)


def with_ways(found: Hollows, pair: Indices, ridge: Array) -> Hollows:
    """The same with more ways between hollows (M, 2) over heights (M,) [m]."""
    apart = pair[:, 0] != pair[:, 1]
    pairs = np.concatenate([found.pair, np.sort(pair[apart], axis=1)])
    ridges = np.concatenate([found.ridge, ridge[apart]])
    by = np.argsort(ridges, kind="stable")
    return replace(found, pair=pairs[by], ridge=ridges[by])


def pieces(land: Landscape) -> Indices:
    """A corner of each part of a mesh that hangs together, shape (P,)."""
    label, before = np.arange(len(land.mesh.vertices)), None
    while before is None or (label != before).any():
        before = label.copy()
        for one, other in (land.edges.T, land.edges.T[::-1]):
            np.minimum.at(label, one, label[other])
        label = label[label]
    return np.unique(label)
