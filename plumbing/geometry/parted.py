"""A solid parted by thin walls across it, and the passages through them."""

from collections.abc import Iterable

import numpy as np

from plumbing.frozen import frozen
from plumbing.geometry.mesh import Mesh, joined
from plumbing.geometry.pierced import filled
from plumbing.geometry.polygon import inside, signed_area
from plumbing.physics.arrays import Array, Flags, Indices

_ASIDE = 1e-5  # a wall through a corner of the solid is moved by this [m]
_BESIDE = 1e-4  # of a wall, where the two ends of a passage are looked for [m]


@frozen(eq=False)
class Passages:
    """H round holes in walls across x.

    Attributes
    ----------
    centre : Array
        Shape (H, 3) [m].
    radius : Array
        Shape (H,) [m].
    """

    centre: Array
    radius: Array

    @property
    def sides(self) -> Array:
        """Points just before and just behind each wall, shape (2, H, 3) [m]."""
        return self.centre + _BESIDE * np.array([[[-1.0, 0.0, 0.0]], [[1.0, 0.0, 0.0]]])

    def middle(self, down: Array) -> Array:
        """Height of the centres for directions (D, 3), shape (D, H) [m]."""
        return np.asarray(-down @ self.centre.T)

    def half(self, down: Array) -> Array:
        """Half their extent in height for directions (D, 3), shape (D, H) [m]."""
        across = np.hypot(down[:, 1], down[:, 2])
        return np.asarray(across[:, None] * self.radius)

    def only(self, which: Flags) -> "Passages":
        """Some of them."""
        return Passages(self.centre[which], self.radius[which])


def parted(mesh: Mesh, stations: Iterable[float]) -> Mesh:
    """Closed pieces of a closed mesh that walls across x leave, as one mesh.

    Parameters
    ----------
    mesh : Mesh
        Closed, outward-facing solid.
    stations : iterable of float
        x of each wall, within the solid [m].
    """
    for x in sorted(stations):
        mesh = _cut(mesh, x)
    return mesh


def _cut(mesh: Mesh, x: float) -> Mesh:
    while np.abs(mesh.vertices[:, 0] - x).min() < 0.5 * _ASIDE:
        x += _ASIDE
    behind = mesh.vertices[:, 0] > x
    if behind.all() or not behind.any():
        return mesh
    return joined(_piece(mesh, behind == side, x, 1.0 - 2.0 * side) for side in (False, True))


def _piece(mesh: Mesh, own: Flags, x: float, facing: float) -> Mesh:
    """The part of a mesh with its own corners, closed by a wall that faces +x (1) or -x (-1)."""
    corners = own[mesh.faces]
    count = corners.sum(axis=1)
    one, two = mesh.faces[count == 1], mesh.faces[count == 2]
    one = _rolled(one, corners[count == 1].argmax(axis=1))
    two = _rolled(two, (~corners[count == 2]).argmax(axis=1))
    pairs = np.concatenate([one[:, [0, 1]], one[:, [0, 2]], two[:, [1, 0]], two[:, [2, 0]]])
    edges, place = np.unique(pairs, axis=0, return_inverse=True)
    start, end = mesh.vertices[edges[:, 0]], mesh.vertices[edges[:, 1]]
    cuts = start + ((x - start[:, 0]) / (end[:, 0] - start[:, 0]))[:, None] * (end - start)
    cuts[:, 0] = x
    place = len(mesh.vertices) + np.asarray(place).reshape(-1)
    first, second, third, fourth = np.split(place, np.cumsum([len(one), len(one), len(two)]))
    faces = [
        mesh.faces[count == 3],
        np.stack([one[:, 0], first, second], axis=1),
        np.stack([third, two[:, 1], two[:, 2]], axis=1),
        np.stack([third, two[:, 2], fourth], axis=1),
    ]
    onwards = np.concatenate([np.stack([second, first]), np.stack([third, fourth])], axis=1)
    points = np.concatenate([mesh.vertices, cuts])
    faces += _wall(points[:, 1:], dict(onwards.T.tolist()), facing)
    kept, numbers = np.unique(np.concatenate(faces), return_inverse=True)
    return Mesh(points[kept], np.asarray(numbers).reshape(-1, 3))


def _rolled(faces: Indices, first: Indices) -> Indices:
    """The same triangles begun at another corner."""
    return np.take_along_axis(faces, (first[:, None] + np.arange(3)) % 3, axis=1)


def _wall(points: Array, onwards: dict[int, int], facing: float) -> list[Indices]:
    """Triangles over loops of corners [y, z]; `onwards` leads round each."""
    loops = [np.array(loop) for loop in _loops(onwards)]
    areas = [signed_area(points[loop]) for loop in loops]
    outer = [k for k, area in enumerate(areas) if area * facing > 0.0]
    faces = []
    for k in outer:
        rims = [loops[k]]
        for other in set(range(len(loops))) - set(outer):
            spot = points[loops[other][:1]]
            around = [n for n in outer if inside(points[loops[n]], spot)[0]]
            if min(around, key=lambda n: abs(areas[n]), default=-1) == k:
                rims.append(loops[other])
        flat = [points[rim] * [1.0, facing] for rim in rims]
        faces.append(np.concatenate(rims)[filled(flat)])
    return faces


def _loops(onwards: dict[int, int]) -> Iterable[list[int]]:
    left = dict(onwards)
    while left:
        first = next(iter(left))
        loop = [first]
        while (following := left.pop(loop[-1])) != first:
            loop.append(following)
        yield loop
