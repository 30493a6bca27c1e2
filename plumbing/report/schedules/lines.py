"""The line schedule: every line with what it is cut from and where it goes."""

import math

import numpy as np

from plumbing.geometry.route import filleted
from plumbing.model.layout import Layout
from plumbing.model.line import Line
from plumbing.network import Survey
from plumbing.network.lengths import route_points
from plumbing.network.roles import Role
from plumbing.report.cards.bench import test_titles
from plumbing.report.schedules.table import Cell, Column, Table

MM = 1e3
_TO_JOINT = 20e-3  # from a joint to the first clip [m]; common practice
_COLUMNS = (
    Column("line"),
    Column("from"),
    Column("to"),
    Column("role"),
    Column("tube"),
    Column("OD", "mm", 1),
    Column("ID", "mm", 1),
    Column("material"),
    Column("routed", "mm"),
    Column("to cut", "mm"),
    Column("cut as"),
    Column("spare", "mm"),
    Column("bends"),
    Column("smallest radius", "mm", 1),
    Column("passages"),
    Column("clips"),
    Column("sleeve"),
    Column("colour"),
    Column("bench cards", short="cards"),
)
_TESTED_BY = {  # names of bench tests by what a line is there for
    Role.SUCTION: ("suction-vacuum", "suction-wet", "pump"),
    Role.BALANCE: ("suction-vacuum", "suction-wet"),
    Role.PRESSURE: ("pressure-side", "stops"),
    Role.VENT: ("fill", "vent-air", "parking"),
    Role.FILL: ("suction-vacuum", "fill"),
}
_PARTS = (
    ("line", "from", "to", "role"),
    ("line", "routed", "to cut", "cut as", "spare", "bends", "smallest radius", "clips"),
    ("line", "tube", "passages", "sleeve", "colour", "bench cards"),
    ("tube", "OD", "ID", "material"),
)


def lines(layout: Layout, survey: Survey) -> Table:
    """Schedule of all lines, in the order of the layout file."""
    rows = tuple(_row(layout, survey, line) for line in layout.lines.values())
    notes = (
        "To cut: as stated in the layout, else the routed length and 5 %, two tube diameters for "
        "each end and the spare.",
        "Clips: at the stated spacing, the first 20 mm from each joint; none where the line is "
        "shorter than one spacing.",
    )
    return Table("lines", "Line schedule", _COLUMNS, rows, notes, _PARTS)


def _row(layout: Layout, survey: Survey, line: Line) -> tuple[Cell, ...]:
    tube, length = layout.tube_of(line), survey.lengths[line.name]
    bends, radius = bends_of(layout, line)
    return (
        line.name,
        line.from_,
        line.to,
        str(survey.lines[line.name].role),
        tube.name,
        tube.outside_diameter * MM,
        tube.inside_diameter * MM,
        tube.material,
        length.routed * MM,
        length_to_cut(survey, line) * MM,
        "stated" if line.cut_length is not None else "computed",
        None if line.spare is None else line.spare * MM,
        float(bends),
        None if radius is None else radius * MM,
        ", ".join(line.through),
        clips_of(length.routed, line.clips),
        line.sleeve or "",
        line.colour or "",
        _cards(survey.lines[line.name].role),
    )


def _cards(role: Role) -> str:
    """Numbers of the bench cards that test a line."""
    numbers = {name: number for number, name in enumerate(test_titles(), start=1)}
    return ", ".join(str(numbers[name]) for name in _TESTED_BY.get(role, ()))


def length_to_cut(survey: Survey, line: Line) -> float:
    """Length a line is cut to: as stated, else as its route needs [m]."""
    length = survey.lengths[line.name]
    return length.to_cut if length.stated is None else length.stated


def bends_of(layout: Layout, line: Line) -> tuple[int, float | None]:
    """Number of bends and the tightest radius that the legs leave room for [m].

    The radius is None where there is no bend, or where neither line nor tube states one.
    """
    points = np.array(route_points(layout, line))
    if len(points) < 3:
        return 0, None
    asked = line.bend_radius or layout.tube_of(line).bend_radius
    curve = filleted(points, asked or 0.0)
    turning = curve.angles > math.radians(1.0)
    if not turning.any():
        return 0, None
    return int(turning.sum()), float(curve.radii[turning].min()) if asked else None


def clips_of(routed: float, spacing: float | None) -> float | None:
    """Clips a line needs; None where their spacing is not stated.

    Parameters
    ----------
    routed : float
        Length of the route [m].
    spacing : float or None
        Between clips [m].
    """
    if spacing is None:
        return None
    if routed <= spacing:
        return 0.0
    between = max(routed - 2.0 * _TO_JOINT, 0.0)
    return math.ceil(round(between / spacing, 9)) + 1.0
