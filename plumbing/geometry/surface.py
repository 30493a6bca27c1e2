"""Surfaces of bodies as closed meshes, to be seen in CAD and on a screen."""

import numpy as np

from plumbing.geometry import solids
from plumbing.geometry.bodies import Body
from plumbing.geometry.lathe import polygon_of, round_end, wrapped
from plumbing.geometry.mesh import Mesh, face_normals, joined
from plumbing.physics.arrays import Array

FACETS = 24  # round a tube
THIN = 1e-3  # what has no thickness is shown with this one [m]
_LONGEST = 4.0  # a sharp edge moves out by no more than so many walls
_NO_WAY = 1e-3  # faces whose normals differ by less are one


def surface(body: Body, flat_ends: bool = False) -> Mesh:
    """Surface of a body.

    Edges stay sharp where a wall is drawn out round them, and facets of what is round leave as
    much outside as they take inside.

    Parameters
    ----------
    body : Body
        The body.
    flat_ends : bool
        Whether a rod ends flat, as a tube does; else it ends round.
    """
    if body.skin is not None:
        return grown(body.skin, body.ball)
    ends = body.points
    if body.disc:
        half = max(0.5 * float((ends[0, -1] - ends[0, 0]) @ body.normal) + body.ball, 0.5 * THIN)
        middle = 0.5 * (ends[0, 0] + ends[0, -1])
        return _rod(middle + half * np.stack([-body.normal, body.normal]), body.disc + body.ball)
    chain = np.concatenate([ends[:, 0], ends[-1:, -1]])
    return rods(chain, body.ball, flat_ends)


def grown(mesh: Mesh, wall: float) -> Mesh:
    """Mesh with each face moved out by a wall [m], edges kept sharp.

    A corner goes where its faces meet again; the corner of a sharp tip stops sooner.
    """
    if wall == 0.0:
        return mesh
    normals = face_normals(mesh)
    size = np.linalg.norm(normals, axis=1, keepdims=True)
    unit = normals / np.where(size > 0.0, size, 1.0)
    planes, sums = np.zeros((len(mesh.vertices), 3, 3)), np.zeros((len(mesh.vertices), 3))
    for k in range(3):
        np.add.at(planes, mesh.faces[:, k], unit[:, :, None] * unit[:, None, :])
        np.add.at(sums, mesh.faces[:, k], wall * unit)
    inverse = np.linalg.pinv(planes, rcond=_NO_WAY, hermitian=True)
    way = np.einsum("vij,vj->vi", inverse, sums)
    far = np.linalg.norm(way, axis=1, keepdims=True)
    way *= np.minimum(_LONGEST * wall / np.where(far > 0.0, far, 1.0), 1.0)
    return Mesh(mesh.vertices + way, mesh.faces)


def rods(chain: Array, radius: float, flat_ends: bool = False) -> Mesh:
    """Round rod along a chain of points [m], shape (N, 3); one point makes a ball.

    Its corners are mitred; one sharper than a right angle is two round ends.
    """
    steps = np.linalg.norm(np.diff(chain, axis=0), axis=1)
    points = chain[np.concatenate([[True], steps > 0.0])]
    if len(points) == 1:
        ball = solids.ellipsoid(np.full(3, 2.0 * radius))
        return Mesh(ball.vertices + points[0], ball.faces)
    ways = np.diff(points, axis=0)
    sharp = np.flatnonzero(np.einsum("ni,ni->n", ways[:-1], ways[1:]) < 0.0) + 1
    edges = [0, *sharp.tolist(), len(points) - 1]
    last = len(edges) - 2
    return joined(
        _rod(points[edges[k] : edges[k + 1] + 1], radius, k > 0 or not flat_ends,
             k < last or not flat_ends)
        for k in range(last + 1)
    )  # fmt: skip


def _rod(points: Array, radius: float, round_first: bool = False, round_last: bool = False) -> Mesh:
    """Rod along points with corners no sharper than a right angle.

    A ring is slid along each straight to the plane that halves the corner, so that every piece is
    a cylinder and the whole holds its section times its length.
    """
    ways = np.diff(points, axis=0)
    ways /= np.linalg.norm(ways, axis=1, keepdims=True)
    planes = np.concatenate([ways[:-1] + ways[1:], ways[-1:]])
    rings = [points[0] + ring_round(ways[0], radius)]
    for way, at, plane in zip(ways, points[1:], planes, strict=True):
        rings.append(slid(rings[-1], way, at, plane))
    stations, radii = round_end()
    first, last = points[0], points[-1]
    before = [
        first - s * radius * ways[0] + r * (rings[0] - first)
        for s, r in zip(stations[-2:0:-1], radii[-2:0:-1], strict=True)
    ]
    behind = [
        last + s * radius * ways[-1] + r * (rings[-1] - last)
        for s, r in zip(stations[1:-1], radii[1:-1], strict=True)
    ]
    return wrapped(
        np.stack([*before * round_first, *rings, *behind * round_last]),
        first - stations[-1] * radius * ways[0] if round_first else None,
        last + stations[-1] * radius * ways[-1] if round_last else None,
    )


def ring_round(way: Array, radius: float, facets: int = FACETS) -> Array:
    """Corners of a round section square to a unit vector, about zero [m], shape (F, 3)."""
    across = np.cross(way, np.eye(3)[int(np.argmin(np.abs(way)))])
    across /= np.linalg.norm(across)
    corners: Array = radius * polygon_of(facets) @ np.stack([across, np.cross(way, across)])
    return corners


def slid(points: Array, way: Array, at: Array, normal: Array) -> Array:
    """Points [m], shape (N, 3), slid along a way to the plane through a point."""
    share = ((at - points) @ normal) / (way @ normal)
    moved: Array = points + share[:, None] * way
    return moved
