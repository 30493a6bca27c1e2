"""How long a line is, how long it should be cut, and how much slack that leaves."""

from __future__ import annotations

import math

from plumbing.frozen import frozen
from plumbing.geometry.route import filleted_length
from plumbing.model.fields import Vector
from plumbing.model.layout import Layout, port_names, port_position, split_port
from plumbing.model.line import Line

CUT_MARGIN = 0.05  # share added to the routed length; common practice
PUSHED_ON = 2.0  # tube length over a barb or in a fitting, in outer diameters; common practice


@frozen
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

    Where the straights are too short for the radius, the largest that fits is taken.
    """
    points = route_points(layout, line)
    if len(points) == 2:
        return math.dist(*points)
    return filleted_length(points, _radius(layout, line))


def _radius(layout: Layout, line: Line) -> float:
    tube = layout.tubes.get(line.tube) or layout.catalogue.get(line.tube)
    return line.bend_radius or (tube.bend_radius if tube else None) or 0.0
