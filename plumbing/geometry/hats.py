"""Volume and first moments below a rising level, as sums over the faces of a mesh.

With s the height of a point and h the level, the divergence theorem with a field that vanishes
on the free surface gives

    volume(h)   = sum over faces of  w/2 * mean of (h - s)+ over the face
    moment_i(h) = sum over faces of  w/2 * mean of x_i (h - s)+  +  up_i * integral of volume

where w/2 is the face's area seen along gravity, positive for a floor; the free surface needs no
triangles. The second derivative of a face's term is a hat: its chord grows from the lowest corner
to the middle one (first leg) and shrinks to the highest (second leg). So the volume is a cubic
and each moment a quartic between neighbouring corners of the mesh.

A leg is put into the table by its derivatives at its start and taken out at its end; running
sums do the rest. Derivatives of a leg that is short against the whole height are large, and
running sums would not cancel them to the last digit: such legs are written directly into the few
intervals they cover.
"""

import numpy as np

from plumbing.frozen import frozen
from plumbing.geometry.sweep import NOTHING, Sweep, covered, scatter, shifted, summed
from plumbing.physics.arrays import Array, Flags, Indices

DIRECT = 400_000  # intervals under short legs written at a time, to bound the memory


@frozen(eq=False)
class _Some:
    """A choice of P pairs of direction and face out of a sweep.

    Attributes
    ----------
    row : Indices
        Direction, shape (P,).
    face : Indices
        Face, shape (P,).
    place : Indices
        Flat places of the corners in the table, shape (3, P).
    leg, over, long
        Height of the legs [m], its reciprocal [1/m] (0 for no height), whether long; (2, P).
    peak : Array
        Height of the hat: weight over the face's height [m], shape (P,).
    weight : Array
        As in the sweep [m2], shape (P,).
    """

    row: Indices
    face: Indices
    place: Indices
    leg: Array
    over: Array
    long: Flags
    peak: Array
    weight: Array


def _some(swept: Sweep, row: Indices, face: Indices) -> _Some:
    """Take some faces out of a sweep."""
    leg = swept.leg[:, row, face]
    least = NOTHING * (swept.heights[row, -1] - swept.heights[row, 0])
    weight = swept.weight[row, face]
    return _Some(
        row,
        face,
        swept.corner[:, row, face] + row * swept.heights.shape[1],
        leg,
        _reciprocal(leg, least),
        swept.long[:, row, face],
        weight * _reciprocal(leg[0] + leg[1], least),
        weight,
    )


def _reciprocal(value: Array, least: Array) -> Array:
    """One over a value, or zero where it is next to nothing."""
    enough = value > least
    result: Array = np.where(enough, 1.0 / np.where(enough, value, 1.0), 0.0)
    return result


def volume_table(swept: Sweep) -> Array:
    """Volume [m3] and its first three derivatives [m2, m, -] above each corner, shape (4, D, V).

    The first derivative is the area of the free surface.
    """
    regular, special = _split(swept)
    slope = swept.weight / np.where(regular, swept.leg[0] + swept.leg[1], np.inf)
    up, fall = slope / np.where(regular, swept.leg, 1.0)
    steps: list[Array | None] = [None, None, None, _at_corners(swept, up, -up - fall, fall)]
    if len(special.row) == 0:
        return summed(steps, swept.heights)
    zero = np.zeros_like(special.peak)
    first, second = special.leg
    rising = np.stack([zero, zero, zero, special.peak * special.over[0]])
    falling = np.stack(
        [
            special.peak * first**2 / 6.0,
            special.peak * first / 2.0,
            special.peak,
            -special.peak * special.over[1],
        ]
    )
    above_mean = (first + 2.0 * second) / 3.0  # of the highest corner over the face's centre
    after = np.stack([0.5 * special.weight * above_mean, 0.5 * special.weight, zero, zero])
    return _with_special(swept, steps, special, (rising, falling, after))


def moment_table(swept: Sweep, points: Array) -> Array:
    """Sum over faces of w/2 * mean of x (h - s)+ and its derivatives, shape (5, D, V).

    Parameters
    ----------
    swept : Sweep
        The faces by height.
    points : Array
        One coordinate of each vertex [m], shape (V,).
    """
    regular, special = _split(swept)
    leg = np.where(regular, swept.leg, 1.0)
    whole = leg[0] + leg[1]
    peak = np.where(regular, swept.weight, 0.0) / whole
    low, mid, high = points[swept.vertex]
    up, fall = peak / leg
    lean_up = 0.5 * ((mid - low) + (high - low) * leg[0] / whole)
    lean_down = 0.5 * ((mid - high) + (low - high) * leg[1] / whole)
    third = _at_corners(
        swept, up * low, -up * (low + 2.0 * lean_up) - fall * (high + 2.0 * lean_down), fall * high
    )
    up, fall = 2.0 * up * lean_up / leg[0], 2.0 * fall * lean_down / leg[1]
    fourth = _at_corners(swept, up, fall - up, -fall)
    steps: list[Array | None] = [None, None, None, third, fourth]
    if len(special.row) == 0:
        return summed(steps, swept.heights)
    corners = points[swept.vertex[:, special.row, special.face]]
    return _with_special(swept, steps, special, _moment_series(special, corners))


def _moment_series(some: _Some, corners: Array) -> tuple[Array, Array, Array]:
    """Derivatives of the moment at the start of both legs and above a face, shape (5, P)."""
    low, mid, high = corners
    first, second = some.leg
    zero = np.zeros_like(some.peak)
    tall = first + second
    share = first / np.where(tall > 0.0, tall, 1.0)
    lean_up = 0.5 * ((mid - low) + (high - low) * share)
    lean_down = 0.5 * ((mid - high) + (low - high) * (1.0 - share))
    up, fall = some.peak * some.over
    rising = np.stack([zero, zero, zero, up * low, 2.0 * up * some.over[0] * lean_up])
    falling = np.stack(
        [
            some.peak * first**2 * (low / 6.0 + lean_up / 12.0),
            some.peak * first * (low / 2.0 + lean_up / 3.0),
            some.peak * (low + lean_up),
            -fall * (high + 2.0 * lean_down),
            2.0 * fall * some.over[1] * lean_down,
        ]
    )
    total = low + mid + high
    product = total * (tall + second) + low * tall + mid * second
    after = np.stack([some.weight * product / 24.0, some.weight * total / 6.0, zero, zero, zero])
    return rising, falling, after


def _split(swept: Sweep) -> tuple[Flags, _Some]:
    """Faces both of whose legs are long, and the others taken out."""
    regular = swept.long[0] & swept.long[1]
    return regular, _some(swept, *np.nonzero(~regular))


def _at_corners(swept: Sweep, low: Array, mid: Array, high: Array) -> Array:
    """Sum what each face changes at its lowest, middle and highest corner, shape (D, V)."""
    shape = swept.heights.shape
    start = (np.arange(shape[0]) * shape[1])[:, None]
    total = scatter(swept.corner[0] + start, low, shape)
    total += scatter(swept.corner[1] + start, mid, shape)
    total += scatter(swept.corner[2] + start, high, shape)
    return total


def _with_special(
    swept: Sweep, steps: list[Array | None], some: _Some, series: tuple[Array, Array, Array]
) -> Array:
    """Running sums of the regular faces' steps with the special faces' legs put in."""
    shape = swept.heights.shape
    rising, falling, after = series
    changes = [np.zeros(shape) if step is None else step for step in steps]
    for k, start in enumerate((rising, falling)):
        taken = np.flatnonzero(some.long[k])
        end = shifted(start[:, taken], some.leg[k, taken])
        for order, change in enumerate(changes):
            change += scatter(some.place[k, taken], start[order, taken], shape)
            change -= scatter(some.place[k + 1, taken], end[order], shape)
    # A second leg of no height covers no interval that could hold its volume.
    done = np.where(some.over[1] > 0.0, some.place[2], some.place[1])
    for order, change in enumerate(changes):
        change += scatter(done, after[order], shape)
    table = summed(list(changes), swept.heights)
    for k, start in enumerate((rising, falling)):
        _write_short(table, swept.heights, some, k, start)
    return table


def _write_short(table: Array, heights: Array, some: _Some, k: int, start: Array) -> None:
    """Add the short legs of one kind to the intervals they cover; `table` is altered."""
    taken = np.flatnonzero(~some.long[k] & (some.over[k] > 0.0))
    if len(taken) == 0:
        return
    work = np.cumsum(some.place[k + 1, taken] - some.place[k, taken]) // DIRECT
    levels = heights.ravel()
    for part in np.split(taken, np.flatnonzero(np.diff(work)) + 1):
        owner, place = covered(some.place[k, part], some.place[k + 1, part])
        owner = part[owner]
        here = shifted(start[:, owner], levels[place] - levels[some.place[k, owner]])
        for order in range(len(table)):
            table[order] += scatter(place, here[order], heights.shape)
