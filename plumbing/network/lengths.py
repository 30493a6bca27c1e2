"""How long a line is, how long it should be cut, and how much slack that leaves."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from plumbing.model.fields import Vector
from plumbing.model.layout import Layout, port_names, port_position, split_port
from plumbing.model.line import Line

CUT_MARGIN = 0.05  # share added to the routed length; common practice
PUSHED_ON = 2.0  # tube length over a barb or in a fitting, in outer diameters; common practice


@dataclass(frozen=True, slots=True)
class LineLength:
    """Lengths of one line [m].

    Attributes
    ----------
    line : str
        Name of the line.
    chord : float
        Straight distance between its two ports.
    routed : float
        Length of the route through its points, corners rounded.
    stated : float or None
        Cut length as written.
    pushed_on : float
        Tube that goes over the barbs or into the fittings, both ends together.
    spare : float
        Extra length stated for reconnecting.
    """

    line: str
    chord: float
    routed: float
    stated: float | None
    pushed_on: float
    spare: float

    @property
    def used(self) -> float:
        """Length the flow sees: as cut, else as routed."""
        return self.routed if self.stated is None else self.stated

    @property
    def to_cut(self) -> float:
        """Length to cut for this route, with margin, ends and spare."""
        return self.routed * (1.0 + CUT_MARGIN) + self.pushed_on + self.spare

    @property
    def slack(self) -> float | None:
        """What the cut length leaves over the route and both ends; negative is too short."""
        return None if self.stated is None else self.stated - self.routed - self.pushed_on


def line_length(layout: Layout, line: Line) -> LineLength:
    """Lengths of one line."""
    points = route_points(layout, line)
    tube = layout.tubes.get(line.tube) or layout.catalogue.get(line.tube)
    ends = 2.0 * PUSHED_ON * tube.outside_diameter if tube else 0.0
    return LineLength(
        line=line.name,
        chord=math.dist(points[0], points[-1]),
        routed=routed_length(layout, line),
        stated=line.cut_length,
        pushed_on=ends,
        spare=line.spare or 0.0,
    )


def route_points(layout: Layout, line: Line) -> tuple[Vector, ...]:
    """Port, corner points, port [m]."""
    return (_end(layout, line.from_), *line.route, _end(layout, line.to))


def _end(layout: Layout, reference: str) -> Vector:
    name, port = split_port(reference)
    part = layout.part(name)
    return port_position(part, port or port_names(part)[0])


def routed_length(layout: Layout, line: Line) -> float:
    """Length of the route, each corner rounded with the line's bend radius [m].

    An arc of radius r that turns by t is shorter than its corner by 2 r tan(t/2) - r t. Where
    the straights are too short for the radius, the largest that fits is taken.
    """
    raw = route_points(layout, line)
    points = raw[:1] + tuple(point for before, point in pairwise(raw) if point != before)
    length = math.fsum(math.dist(a, b) for a, b in pairwise(points))
    radius = _radius(layout, line)
    if not radius:
        return length
    corners = zip(points, points[1:], points[2:], strict=False)
    return length - math.fsum(_saved(a, b, c, radius) for a, b, c in corners)


def _radius(layout: Layout, line: Line) -> float:
    tube = layout.tubes.get(line.tube) or layout.catalogue.get(line.tube)
    return line.bend_radius or (tube.bend_radius if tube else None) or 0.0


def _saved(before: Vector, corner: Vector, after: Vector, radius: float) -> float:
    """Length an arc saves at one corner [m]."""
    arriving, leaving = math.dist(before, corner), math.dist(corner, after)
    if min(arriving, leaving) < 1e-9:
        return 0.0
    cosine = math.fsum((b - a) * (c - b) for a, b, c in zip(before, corner, after, strict=True)) / (
        arriving * leaving
    )
    turn = math.acos(max(-1.0, min(1.0, cosine)))
    half = math.tan(turn / 2.0)
    if half < 1e-9:
        return 0.0
    fits = min(radius, min(arriving, leaving) / 2.0 / half)
    return fits * (2.0 * half - turn)
