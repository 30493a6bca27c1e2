"""The corners of a mesh in order of height, and running sums of polynomials over them."""

import numpy as np

from plumbing.frozen import frozen
from plumbing.geometry.mesh import Mesh, face_normals
from plumbing.physics.arrays import Array, Flags, Indices

SHORT = (1e-3, 1e-5, 1e-7, 1e-9)  # legs below this share of the whole height are short
NOTHING = 1e-14  # share of the whole height that is no height
CROWDED = 2000  # intervals per face under short legs above which fewer are called short


@frozen(eq=False)
class Sweep:
    """Faces of one mesh met by a rising level, for D directions.

    A face's first leg goes from its lowest to its middle corner, the second on to its highest.

    Attributes
    ----------
    heights : Array
        Heights of all V corners, rising [m], shape (D, V).
    corner : Indices
        Places in that order of each face's lowest, middle and highest corner, shape (3, D, F).
    vertex : Indices
        Their vertex numbers, shape (3, D, F).
    leg : Array
        Heights of the two legs [m], shape (2, D, F).
    weight : Array
        Twice the area of each face seen along gravity, positive where it is a floor [m2],
        shape (D, F).
    long : Flags
        Whether a leg is long against the whole height, shape (2, D, F).
    """

    heights: Array
    corner: Indices
    vertex: Indices
    leg: Array
    weight: Array
    long: Flags


def sweep(mesh: Mesh, down: Array) -> Sweep:
    """Sort the corners of a mesh by height for each unit direction, shape (D, 3)."""
    height = -(down @ mesh.vertices.T)
    order = np.argsort(height, axis=1)
    heights = np.take_along_axis(height, order, axis=1)
    count = height.shape[1]
    rank: Indices = np.empty_like(order)
    np.put_along_axis(rank, order, np.arange(count)[None, :], axis=1)
    first, second, third = (rank[:, mesh.faces[:, k]] for k in range(3))
    lowest = np.minimum(np.minimum(first, second), third)
    highest = np.maximum(np.maximum(first, second), third)
    corner = np.stack([lowest, first + second + third - lowest - highest, highest])
    flat = corner + (np.arange(len(down)) * count)[:, None]
    level = heights.ravel()[flat]
    leg = np.stack([level[1] - level[0], level[2] - level[1]])
    return Sweep(
        heights,
        corner,
        order.ravel()[flat],
        leg,
        down @ face_normals(mesh).T,
        _long_legs(heights, corner, leg),
    )


def _long_legs(heights: Array, corner: Indices, leg: Array) -> Flags:
    """Say which legs are long.

    Many corners at nearly one height, as of a finely meshed flat bottom almost level, put many
    intervals under many short legs. Above a bound on the work fewer legs are called short, and
    such a mesh keeps 1e-6 of its capacity only.
    """
    whole = (heights[:, -1] - heights[:, 0])[:, None]
    covered = np.stack([corner[1] - corner[0], corner[2] - corner[1]])
    for share in SHORT:
        long: Flags = leg > share * whole
        if covered[~long].sum() <= CROWDED * leg[0].size:
            break
    return long


def scatter(place: Indices, value: Array, shape: tuple[int, ...]) -> Array:
    """Sum values at flat places of an array of a given shape [unit of the values]."""
    size = int(np.prod(shape))
    total = np.bincount(place.ravel(), weights=value.ravel(), minlength=size)
    return total.astype(np.float64, copy=False).reshape(shape)


def shifted(series: Array, step: Array) -> Array:
    """Derivatives of a polynomial further on.

    Parameters
    ----------
    series : Array
        Value and derivatives, lowest first, shape (n, ...).
    step : Array
        Distance [m], shape (...).
    """
    result = series.copy()
    for order in range(len(series)):
        factor = step
        for higher in range(order + 1, len(series)):
            result[order] += factor * series[higher]
            factor = factor * step / (higher - order + 1)
    return result


def summed(changes: list[Array | None], heights: Array) -> Array:
    """Derivatives in each interval from their changes at its lower end.

    Parameters
    ----------
    changes : list of Array or None
        Change of the value and of each derivative, lowest first, shape (D, V); None where
        nothing changes.
    heights : Array
        Heights of the ends [m], shape (D, V).

    Returns
    -------
    Array
        Value and derivatives at the lower end of each interval, shape (n, D, V).
    """
    width = np.diff(heights, axis=1)
    result = np.zeros((len(changes), *heights.shape))
    for order in range(len(changes) - 1, -1, -1):
        own, change, factor = result[order], changes[order], width
        for higher in range(order + 1, len(changes)):
            own[:, 1:] += factor * result[higher, :, :-1]
            factor = factor * width / (higher - order + 1)
        if change is not None:
            own += change
        np.cumsum(own, axis=1, out=own)
    return result


def covered(first: Indices, last: Indices) -> tuple[Indices, Indices]:
    """Every place from `first` up to but without `last`, and the number of the pair it is of."""
    length = last - first
    owner = np.repeat(np.arange(len(length)), length)
    place = np.arange(len(owner)) - np.repeat(np.cumsum(length) - length - first, length)
    return owner, place
