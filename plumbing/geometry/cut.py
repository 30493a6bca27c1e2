"""Volume, surface and centre of the liquid below a level, exact for a mesh, many at once.

The height of a point is measured against effective gravity, ``-down . x`` [m], from the origin of
the body axes; a level is the height of the free surface.
"""

from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from plumbing.frozen import frozen
from plumbing.geometry.hats import moment_table, volume_table
from plumbing.geometry.mesh import Mesh
from plumbing.geometry.pieces import inverted, locate, value_at
from plumbing.geometry.sweep import Sweep, sweep
from plumbing.physics.arrays import Array, Flags, Indices

BATCH = 80_000  # pairs of direction and face worked on at a time: what a cache holds
EMPTY = 1e-9  # share of capacity below which the centre is the lowest corner


@frozen(eq=False)
class Cut:
    """A solid as tables of volume against level, for D directions of gravity.

    Queries take levels or volumes of shape (D, ...), one row a direction, or a single number;
    with `index`, of shape (S,), entry k of a query refers to direction ``index[k]``.

    Attributes
    ----------
    down : Array
        Unit vectors along effective gravity [-], shape (D, 3).
    heights : Array
        Heights of the mesh's corners, rising [m], shape (D, V).
    volumes : Array
        Volume [m3] and its derivatives above each corner, shape (4, D, V).
    moments : Array or None
        First moments about `middle` [m4] and derivatives, shape (3, 5, D, V).
    middle : Array
        Centre of the mesh's bounding box [m], shape (3,).
    capacity : float
        Volume of the whole solid [m3].
    tip : Array
        Lowest corner of the mesh [m], shape (D, 3).
    """

    down: Array
    heights: Array
    volumes: Array
    moments: Array | None
    middle: Array
    capacity: float
    tip: Array

    @property
    def bottom(self) -> Array:
        """Height of the lowest point [m], shape (D,)."""
        return self.heights[:, 0]

    @property
    def top(self) -> Array:
        """Height of the highest point [m], shape (D,)."""
        return self.heights[:, -1]

    def volume_at(self, level: ArrayLike, index: Indices | None = None) -> Array:
        """Volume below a level [m] -> [m3]; 0 below the solid, capacity above it."""
        row, height = self._query(level, index)
        place, step = self._above(row, height)
        volume: Array = np.clip(value_at(self.volumes, place, step), 0.0, self.capacity)
        volume = np.where(height >= self.top[row], self.capacity, volume)
        return np.where(height <= self.bottom[row], 0.0, volume)

    def centroid_at(self, level: ArrayLike, index: Indices | None = None) -> Array:
        """Centre of the volume below a level [m] -> [m], shape of the query and 3.

        For an empty solid it is the lowest corner.
        """
        if self.moments is None:
            raise ValueError("this cut was made without moments")
        row, height = self._query(level, index)
        place, step = self._above(row, height)
        volume = value_at(self.volumes, place, step)
        empty = volume <= EMPTY * self.capacity
        whole = np.where(empty, self.capacity, volume)
        moment = np.stack([value_at(axis, place, step) for axis in self.moments], axis=-1)
        centre: Array = self.middle + moment / whole[..., None]
        return np.where(empty[..., None], self.tip[row], centre)

    def level_for(self, volume: ArrayLike, index: Indices | None = None) -> Array:
        """Level of a volume [m3] -> [m]; the bottom for none or less, the top for all or more."""
        row, wanted = self._query(volume, index)
        place = locate(self.volumes[0], row, wanted)
        following = np.minimum(place + 1, row * self.heights.shape[1] + self.heights.shape[1] - 1)
        heights = self.heights.ravel()
        low = heights[place]
        step = inverted(self.volumes, place, heights[following] - low, wanted)
        level = np.where(wanted >= self.capacity, self.top[row], low + step)
        return np.where(wanted <= 0.0, self.bottom[row], level)

    def _query(self, value: ArrayLike, index: Indices | None) -> tuple[Indices, Array]:
        """Direction and value of each entry, of one shape."""
        values = np.asarray(value, float)
        if index is not None:
            row = np.asarray(index, dtype=np.intp)
        else:
            row = np.arange(len(self.down)).reshape(-1, *([1] * (values.ndim - 1)))
        rows, values = np.broadcast_arrays(row, values)
        return rows, values

    def _above(self, row: Indices, height: Array) -> tuple[Indices, Array]:
        """Flat place of the corner below each height, and the height over that corner [m]."""
        inside = np.clip(height, self.bottom[row], self.top[row])
        place = locate(self.heights, row, inside)
        return place, inside - self.heights.ravel()[place]


def cut(mesh: Mesh, down: ArrayLike, *, moments: bool = True, within: Flags | None = None) -> Cut:
    """Tables of volume and moments of a mesh against level.

    Parameters
    ----------
    mesh : Mesh
        Closed, outward-facing solid.
    down : array_like
        Unit vectors along effective gravity [-], shape (D, 3) or (3,).
    moments : bool
        Whether centres will be asked for; without them the tables are made about five times
        faster.
    within : Flags, optional
        Faces that count in each direction, shape (D, F): those that begin in one basin. Then the
        tables hold from its lowest corner up to where it meets another. All by default.

    Returns
    -------
    Cut
        Exact for the mesh, to about 1e-12 of its capacity.
    """
    directions = np.atleast_2d(np.asarray(down, float))
    middle = mesh.middle
    count, corners = len(directions), len(mesh.vertices)
    heights = np.empty((count, corners))
    volumes = np.empty((4, count, corners))
    tables = np.empty((3, 5, count, corners)) if moments else None
    some = max(1, BATCH // len(mesh.faces))
    for first in range(0, count, some):
        part = slice(first, first + some)
        swept = sweep(mesh, directions[part])
        if within is not None:
            swept = replace(swept, weight=swept.weight * within[part])
        heights[part] = swept.heights
        table = volume_table(swept)
        np.maximum.accumulate(np.maximum(table[0], 0.0), axis=1, out=table[0])
        volumes[:, part] = table
        if tables is not None:
            tables[:, :, part] = _moments(mesh, swept, table, directions[part])
    tip = mesh.vertices[np.argmax(directions @ mesh.vertices.T, axis=1)]
    return Cut(directions, heights, volumes, tables, middle, mesh.volume, tip)


def _moments(mesh: Mesh, swept: Sweep, volumes: Array, down: Array) -> Array:
    """First moments about the middle of the mesh and their derivatives, shape (3, 5, D, V)."""
    below = np.zeros((5, *swept.heights.shape))
    below[1:] = volumes
    width = np.diff(swept.heights, axis=1)
    for order in (4, 3, 2, 1):
        below[0, :, 1:] = (below[0, :, 1:] + below[order, :, :-1]) * width / order
    np.cumsum(below[0], axis=1, out=below[0])
    points = mesh.vertices - mesh.middle
    return np.stack(
        [moment_table(swept, points[:, k]) - down[:, k, None] * below for k in range(3)]
    )
