"""The solids tanks are drawn as, meshed so that each holds exactly its formula's volume.

Box, cylinder, capsule and ellipsoid have the centre of their bounding box at the origin. A prism
keeps the coordinates of its sections. The corners of curved shapes stand a little outside the
true surface, so that each facet leaves as much outside as it takes inside: then the volume below
any plane, not only the whole, is right to 1e-4 of capacity.
"""

from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from plumbing.geometry.lathe import lathed, round_end, sphere_profile
from plumbing.geometry.mesh import Mesh, mesh_of, scaled_to
from plumbing.geometry.polygon import triangulated
from plumbing.physics.arrays import Array

Axis = Literal["x", "y", "z"]
CYLINDER_FACETS = 40
CAPSULE_FACETS = 32
SPHERE_FACETS, SPHERE_BANDS = 36, 18


def box(size: ArrayLike) -> Mesh:
    """Box with edges along the axes.

    Parameters
    ----------
    size : array_like
        Length x, width y, height z [m], shape (3,).
    """
    half = 0.5 * np.asarray(size, float)
    corners = np.array([(x, y, z) for x in (-1, 1) for y in (-1, 1) for z in (-1, 1)], float)
    quads = [(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)]
    faces = [t for a, b, c, d in quads for t in ((a, b, c), (a, c, d))]
    return mesh_of(corners * half, faces)


def cylinder(length: float, diameter: float, axis: Axis = "x") -> Mesh:
    """Cylinder with flat ends.

    Parameters
    ----------
    length, diameter : float
        Inner length and diameter [m].
    axis : {"x", "y", "z"}
        Direction of the axis.
    """
    radius = 0.5 * diameter
    stations = np.array([-0.5 * length, 0.5 * length])
    mesh = lathed(stations, np.array([radius, radius]), CYLINDER_FACETS)
    return _along(mesh, axis)


def capsule(length: float, diameter: float, axis: Axis = "x") -> Mesh:
    """Cylinder with hemispherical ends.

    Parameters
    ----------
    length : float
        Inner length over all [m]; where it is not above the diameter, a sphere results.
    diameter : float
        Inner diameter [m].
    axis : {"x", "y", "z"}
        Direction of the axis.
    """
    radius, straight = 0.5 * diameter, length - diameter
    if straight <= 1e-9 * diameter:
        return ellipsoid((diameter, diameter, diameter))
    stations, radii = round_end()
    along = np.concatenate(
        [-stations[::-1] * radius - 0.5 * straight, stations * radius + 0.5 * straight]
    )
    mesh = lathed(along, np.concatenate([radii[::-1], radii]) * radius, CAPSULE_FACETS)
    volume = np.pi * radius**2 * (straight + 4.0 / 3.0 * radius)
    return _along(scaled_to(mesh, volume), axis)


def ellipsoid(size: ArrayLike) -> Mesh:
    """Ellipsoid with its axes along the body axes.

    Parameters
    ----------
    size : array_like
        Length x, width y, height z [m], shape (3,).
    """
    sphere = lathed(*sphere_profile(SPHERE_BANDS), SPHERE_FACETS)
    exact = scaled_to(sphere, 4.0 / 3.0 * np.pi)
    return Mesh(exact.vertices * 0.5 * np.asarray(size, float), exact.faces)


def prism(stations: ArrayLike, sections: ArrayLike) -> Mesh:
    """Body lofted through cross-sections, as for saddle, nacelle and wing tanks.

    Corner k of each section is joined to corner k of the next by a straight edge. The
    coordinates are kept: the origin of the sections is the origin of the solid.

    Parameters
    ----------
    stations : array_like
        x of each section [m], shape (S,), S >= 2, rising or falling.
    sections : array_like
        Corners [y, z] of each section in order [m], shape (S, N, 2), N >= 3; concave is
        allowed, crossing itself is not.
    """
    along, outlines = np.asarray(stations, float), np.asarray(sections, float)
    count, corners = outlines.shape[:2]
    points = np.concatenate([np.repeat(along, corners)[:, None], outlines.reshape(-1, 2)], axis=1)
    side = np.arange(corners)
    following = np.roll(side, -1)
    quads = [
        np.stack([side, following, following + corners, side + corners], axis=1) + k * corners
        for k in range(count - 1)
    ]
    rows = np.concatenate(quads)
    faces = [
        rows[:, [0, 2, 1]],
        rows[:, [0, 3, 2]],
        triangulated(outlines[0]),
        triangulated(outlines[-1])[:, ::-1] + (count - 1) * corners,
    ]
    return mesh_of(points, np.concatenate(faces))


def _along(mesh: Mesh, axis: Axis) -> Mesh:
    """Mesh about the x axis turned to another axis; a cyclic swap keeps it facing out."""
    shift = "xyz".index(axis)
    turned: Array = np.roll(mesh.vertices, shift, axis=1)
    return Mesh(np.ascontiguousarray(turned), mesh.faces)
