"""Lines as polylines with rounded corners: length, bends, room, high and low points."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.frozen import frozen
from plumbing.physics.arrays import Array, Flags

STRAIGHT = 1e-9  # turn below which a corner is none [rad]


def length(points: ArrayLike) -> float:
    """Length of a polyline [m].

    Parameters
    ----------
    points : array_like
        Points in order [m], shape (N, 3).
    """
    return float(np.linalg.norm(np.diff(np.asarray(points, float), axis=0), axis=1).sum())


def bend_angles(points: ArrayLike) -> Array:
    """Change of direction at each inner point [rad], shape (N - 2,); 0 straight on, pi back.

    Parameters
    ----------
    points : array_like
        Points in order [m], shape (N, 3). A leg of no length turns nothing.
    """
    legs = np.diff(np.asarray(points, float), axis=0)
    across = np.linalg.norm(np.cross(legs[:-1], legs[1:]), axis=1)
    angle: Array = np.arctan2(across, np.einsum("ni,ni->n", legs[:-1], legs[1:]))
    return angle


@frozen(eq=False)
class Filleted:
    """A polyline of N points with arcs at its corners.

    Attributes
    ----------
    starts, ends : Array
        Ends of the straight pieces [m], shape (N - 1, 3); a piece of no length where two arcs
        meet.
    directions : Array
        Unit vectors along the straight pieces [-], shape (N - 1, 3).
    centres : Array
        Centres of the arcs [m], shape (N - 2, 3); the corner itself where there is no turn.
    radii : Array
        To the centre line [m], shape (N - 2,).
    angles : Array
        Turned [rad], shape (N - 2,).
    """

    starts: Array
    ends: Array
    directions: Array
    centres: Array
    radii: Array
    angles: Array

    @property
    def arc_lengths(self) -> Array:
        """Lengths of the arcs [m], shape (N - 2,)."""
        arcs: Array = self.radii * self.angles
        return arcs

    @property
    def straight_lengths(self) -> Array:
        """Lengths of the straight pieces [m], shape (N - 1,)."""
        straight: Array = np.linalg.norm(self.ends - self.starts, axis=1)
        return straight

    @property
    def length(self) -> float:
        """Length along the centre line [m]."""
        return float(self.arc_lengths.sum() + self.straight_lengths.sum())


def filleted(points: ArrayLike, radii: ArrayLike) -> Filleted:
    """Polyline with its corners rounded.

    Where a leg is too short for the radii asked, the radius at both its ends is made smaller
    until the arcs fit; `room` tells beforehand.

    Parameters
    ----------
    points : array_like
        Points in order [m], shape (N, 3), N >= 2.
    radii : array_like
        Radius to the centre line [m], one for all or one for each inner point.
    """
    path = np.asarray(points, float)
    legs = np.diff(path, axis=0)
    size = np.linalg.norm(legs, axis=1)
    unit = legs / np.where(size > 0.0, size, 1.0)[:, None]
    angle = bend_angles(path)
    wanted = np.broadcast_to(np.asarray(radii, float), angle.shape)
    half_tangent = np.tan(0.5 * np.minimum(angle, np.pi - 1e-6))
    setback = _setbacks(wanted * half_tangent, size)
    turning = angle > STRAIGHT
    radius = np.where(turning, setback / np.where(turning, half_tangent, 1.0), 0.0)
    taken = np.concatenate([[0.0], np.where(turning, setback, 0.0), [0.0]])[:, None]
    starts, ends = path[:-1] + taken[:-1] * unit, path[1:] - taken[1:] * unit
    inward = unit[1:] - unit[:-1]
    bulk = np.linalg.norm(inward, axis=1)
    inward = inward / np.where(bulk > 0.0, bulk, 1.0)[:, None]
    out = radius / np.cos(0.5 * np.minimum(angle, np.pi - 1e-6))
    centres = path[1:-1] + out[:, None] * inward
    return Filleted(starts, ends, unit, centres, radius, np.where(turning, angle, 0.0))


def _setbacks(wanted: Array, size: Array) -> Array:
    """Length each corner takes off its legs [m], shared where a leg is too short."""
    asked = np.concatenate([[0.0], wanted, [0.0]])
    both = asked[:-1] + asked[1:]
    short = both > size
    share = np.where(short, size / np.where(short, both, 1.0), 1.0)
    granted: Array = asked[1:-1] * np.minimum(share[:-1], share[1:])
    return granted


def filleted_length(points: ArrayLike, radii: ArrayLike) -> float:
    """Length of a polyline with rounded corners [m]; arguments as in `filleted`."""
    return filleted(points, radii).length


def room(points: ArrayLike, radii: ArrayLike) -> Array:
    """Straight length left on each leg between its bends [m], shape (N - 1,).

    Negative where the bends do not fit; minus infinity at a leg that turns straight back.
    """
    path = np.asarray(points, float)
    size = np.linalg.norm(np.diff(path, axis=0), axis=1)
    angle = bend_angles(path)
    back = angle > np.pi - 1e-6
    setback = np.where(back, np.inf, np.tan(0.5 * np.where(back, 0.0, angle)))
    setback = setback * np.broadcast_to(np.asarray(radii, float), angle.shape)
    asked = np.concatenate([[0.0], setback, [0.0]])
    left: Array = size - asked[:-1] - asked[1:]
    return left


def fits(points: ArrayLike, radius: ArrayLike, straight: float = 0.0) -> Flags:
    """Whether each leg has room for the bends at its ends, shape (N - 1,).

    Parameters
    ----------
    points : array_like
        Points in order [m], shape (N, 3).
    radius : array_like
        Bend radius to the centre line [m], one for all or one for each inner point.
    straight : float
        Straight length wanted on every leg, as before a fitting [m].
    """
    enough: Flags = room(points, radius) >= straight - 1e-9
    return enough


def sampled(curve: Filleted, step: float = 0.005, turn: float = 0.2) -> Array:
    """Points along a rounded polyline, none further apart than a step.

    Parameters
    ----------
    curve : Filleted
        The line.
    step : float
        Largest distance along the curve [m].
    turn : float
        Largest turn of an arc between two points [rad].

    Returns
    -------
    Array
        Points in order [m], shape (N, 3), ends of all pieces among them.
    """
    parts = [curve.starts[:1]]
    for k in range(len(curve.starts)):
        parts.append(_along(curve.starts[k], curve.ends[k], step))
        if k < len(curve.radii) and curve.angles[k] > 0.0:
            parts.append(_arc(curve, k, step, turn))
    return np.concatenate(parts)


def _along(start: Array, end: Array, step: float) -> Array:
    """Points of a straight piece without its start."""
    count = max(1, int(np.ceil(float(np.linalg.norm(end - start)) / step)))
    share = np.arange(1, count + 1)[:, None] / count
    points: Array = start + share * (end - start)
    return points


def _arc(curve: Filleted, k: int, step: float, turn: float) -> Array:
    """Points of an arc without its start."""
    radius, angle = curve.radii[k], curve.angles[k]
    outward = curve.ends[k] - curve.centres[k]
    count = max(1, int(np.ceil(radius * angle / step)), int(np.ceil(angle / turn)))
    turned = angle * np.arange(1, count + 1)[:, None] / count
    points: Array = (
        curve.centres[k] + np.cos(turned) * outward + np.sin(turned) * radius * curve.directions[k]
    )
    return points


def shortened(points: ArrayLike, start: float, end: float) -> Array:
    """Polyline without its ends, shape (N, 3); its middle alone where nothing would be left.

    Parameters
    ----------
    points : array_like
        Points in order [m], shape (N, 3).
    start, end : float
        Lengths taken off [m].
    """
    path = np.asarray(points, float)
    reached = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(path, axis=0), axis=1))])
    first, last = start, reached[-1] - end
    if first >= last:
        first = last = 0.5 * (first + last)
    cut = np.stack([np.interp([first, last], reached, path[:, k]) for k in range(3)], axis=1)
    inner = path[(reached > first) & (reached < last)]
    return np.concatenate([cut[:1], inner, cut[1:]]) if last > first else cut[:1]
