"""A line that passes a zone nearer than it may."""

from collections.abc import Iterator

from plumbing.checks.kit import Figure, Found
from plumbing.model.layout import Layout
from plumbing.model.line import Line
from plumbing.model.structure import Zone
from plumbing.network.clearance import line_clearance
from plumbing.units import show


def too_near(layout: Layout, line: Line, zone: Zone, allowed: float) -> Iterator[Found]:
    """Find a line that comes nearer to a zone than allowed [m]."""
    gap = line_clearance(layout, line, zone)
    if gap < allowed:
        what = f"Line {line.name} passes {zone.name} at {show(gap, 'length')}."
        figures = Figure(gap, "length"), Figure(allowed, "length")
        yield Found(line.name, what, *figures, "route", (zone.name,))
