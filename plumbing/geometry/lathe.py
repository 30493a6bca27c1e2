"""Bodies of revolution as meshes whose facets neither gain nor lose volume locally."""

import numpy as np

from plumbing.geometry.mesh import Mesh, mesh_of
from plumbing.physics.arrays import Array

END_BANDS = 11  # of a hemispherical end


def lathed(stations: Array, radii: Array, facets: int) -> Mesh:
    """Mesh of a profile turned about the x axis, with regular polygons of equal area.

    Parameters
    ----------
    stations : Array
        x of the profile's corners [m], shape (N,), rising.
    radii : Array
        Radius at each [m], shape (N,); an end at zero is a pole, else it is closed flat.
    facets : int
        Facets round the axis.
    """
    circle = polygon_of(facets)
    tiny = 1e-12 * radii.max()
    poles = [bool(radii[0] <= tiny), bool(radii[-1] <= tiny)]
    ringed = slice(int(poles[0]), len(radii) - int(poles[1]))
    flat = radii[ringed, None, None] * circle
    along = np.broadcast_to(stations[ringed, None, None], (*flat.shape[:2], 1))
    tips = [np.array([stations[end], 0.0, 0.0]) if poles[end] else None for end in (0, -1)]
    return wrapped(np.concatenate([along, flat], axis=2), tips[0], tips[1])


def wrapped(rings: Array, first: Array | None = None, last: Array | None = None) -> Mesh:
    """Closed mesh round a row of rings, corner joined to corner.

    Parameters
    ----------
    rings : Array
        Corners of convex rings [m], shape (R, F, 3), counter-clockwise seen against the row.
    first, last : Array, optional
        Poles before the first and behind the last ring [m], shape (3,); without one the end is
        closed flat.
    """
    count, facets = rings.shape[:2]
    faces = [_sides(count, facets)]
    tip = count * facets
    for pole, ring, ends in ((first, 0, False), (last, tip - facets, True)):
        cap = _strip(facets) + ring if pole is None else _fan(tip, ring, facets)
        tip += pole is not None
        faces.append(cap if ends else cap[:, ::-1])
    tips = [pole[None] for pole in (first, last) if pole is not None]
    return mesh_of(np.concatenate([rings.reshape(-1, 3), *tips]), np.concatenate(faces))


def polygon_of(facets: int) -> Array:
    """Regular polygon with the area of the unit circle [-], shape (F, 2), counter-clockwise."""
    step = 2.0 * np.pi / facets
    angle = step * np.arange(facets)
    circle = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    swollen: Array = circle * np.sqrt(step / np.sin(step))
    return swollen


def _sides(rings: int, facets: int) -> Array:
    """Triangles between neighbouring rings, shape (F, 3)."""
    start = np.arange(facets)
    following = np.roll(start, -1)
    quad = np.concatenate(
        [
            np.stack([start, following, following + facets], axis=1),
            np.stack([start, following + facets, start + facets], axis=1),
        ]
    )
    return np.concatenate(
        [np.empty((0, 3), dtype=np.intp)] + [quad + k * facets for k in range(rings - 1)]
    )


def _fan(tip: int, ring: int, facets: int) -> Array:
    """Triangles from a pole to its ring, facing along x."""
    start = ring + np.arange(facets)
    return np.stack([np.full(facets, tip), start, np.roll(start, -1)], axis=1)


def _strip(facets: int) -> Array:
    """Triangles that fill a ring by going to and fro across it, facing along x."""
    order = [0]
    for k in range(1, facets // 2 + 1):
        order += [k, facets - k]
    order = list(dict.fromkeys(order))
    return np.array([sorted(order[k : k + 3]) for k in range(facets - 2)], dtype=np.intp)


def sphere_profile(bands: int) -> tuple[Array, Array]:
    """Profile of a unit sphere from pole to pole, its corners raised to keep volume locally.

    Parameters
    ----------
    bands : int
        Bands of equal breadth between the poles.

    Returns
    -------
    tuple of Array
        Stations and radii [-], shape (bands + 1,).
    """
    step = np.pi / bands
    angle = step * np.arange(bands + 1)
    raised = 1.0 + step**2 / 12.0  # mean height of a circle's arc over its chord
    radii = raised * np.sin(angle)
    radii[[0, -1]] = 0.0
    return -raised * np.cos(angle), radii


def round_end() -> tuple[Array, Array]:
    """Profile of a unit half sphere from its rim (not raised) to its pole.

    The first band is narrower by root two: then its own corner at the rim can stay on the
    cylinder it joins while every later corner is raised alike. What is left of the difference
    in volume, of fourth order, is taken out by the factor on the raised corners.

    Returns
    -------
    tuple of Array
        Stations from 0 and radii [-], shape (END_BANDS + 1,).
    """
    step = 0.5 * np.pi / (END_BANDS - 1 + np.sqrt(0.5))
    angle = np.concatenate([[0.0], step * (np.sqrt(0.5) + np.arange(END_BANDS))])
    angle[-1] = 0.5 * np.pi

    def profile(raised: float) -> tuple[Array, Array]:
        factor = np.where(angle > 0.0, 1.0 + raised, 1.0)
        radii = factor * np.cos(angle)
        radii[-1] = 0.0
        return factor * np.sin(angle), radii

    low, high = 0.0, 0.25 * step**2
    for _ in range(60):
        middle = 0.5 * (low + high)
        if _turned_volume(*profile(middle)) < 2.0 / 3.0 * np.pi:
            low = middle
        else:
            high = middle
    return profile(0.5 * (low + high))


def _turned_volume(stations: Array, radii: Array) -> float:
    """Volume of a profile of straight pieces turned about its axis [m3]."""
    first, second = radii[:-1], radii[1:]
    cones = np.diff(stations) * (first**2 + first * second + second**2)
    return float(np.pi / 3.0 * cones.sum())
