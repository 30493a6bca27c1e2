"""Where a rounded line goes through a former, and how squarely."""

import math
from dataclasses import dataclass

import numpy as np

from plumbing.geometry.route import filleted, sampled
from plumbing.model.layout import Layout
from plumbing.model.line import Line
from plumbing.model.structure import Former
from plumbing.network.lengths import route_points

_STEP = 1e-3  # of the curve looked at [m]


@dataclass(frozen=True, slots=True)
class Piercing:
    """One place where a line goes through the middle plane of a former.

    Attributes
    ----------
    at : tuple of float
        As [y, z] in a former, [x, z] in a rib [m].
    angle : float
        Between tube and wall [rad]: half pi is square.
    along : float
        From the line's start, along it [m].
    """

    at: tuple[float, float]
    angle: float
    along: float


def piercings(layout: Layout, line: Line, former: Former) -> tuple[Piercing, ...]:
    """Places where a line with its bends goes through a former's plane, from its start on."""
    radius = line.bend_radius or layout.tube_of(line).bend_radius or 0.0
    points = sampled(filleted(np.array(route_points(layout, line)), radius), _STEP)
    normal, across = (0, (1, 2)) if former.across == "x" else (1, (0, 2))
    beyond = points[:, normal] - former.station
    steps = np.diff(points, axis=0)
    sizes = np.linalg.norm(steps, axis=1)
    reached = np.concatenate([[0.0], np.cumsum(sizes)])
    found = []
    for k in np.flatnonzero((beyond[:-1] > 0.0) != (beyond[1:] > 0.0)):
        share = beyond[k] / (beyond[k] - beyond[k + 1])
        point = points[k] + share * steps[k]
        angle = math.asin(min(abs(float(steps[k, normal])) / float(sizes[k]), 1.0))
        at = (float(point[across[0]]), float(point[across[1]]))
        found.append(Piercing(at, angle, float(reached[k] + share * sizes[k])))
    return tuple(found)


def nearest(found: tuple[Piercing, ...], at: tuple[float, float]) -> Piercing | None:
    """Piercing nearest to a passage; None where there is none."""
    return min(found, key=lambda one: math.dist(one.at, at), default=None)
