"""The hole schedule: every passage to drill, with what goes through it and how."""

import math

from plumbing.model.layout import Layout
from plumbing.model.line import Line, Tube
from plumbing.model.parts import Joint
from plumbing.model.structure import Former, Passage
from plumbing.network.former_holes import edge_distance, nearest, piercings, threaded
from plumbing.report.schedules.lines import MM
from plumbing.report.schedules.table import Cell, Column, Table

_WIRE = 0.5e-3  # wire of a lock, wound round once [m]; common practice
_COLUMNS = (
    Column("former"),
    Column("passage"),
    Column("station", "mm", 1),
    Column("across", "mm", 1),
    Column("up z", "mm", 1),
    Column("across is"),
    Column("drill", "mm", 1),
    Column("grommet wall", "mm", 1),
    Column("clear", "mm", 1),
    Column("edge"),
    Column("sealed"),
    Column("centre to edge", "mm", 1),
    Column("line"),
    Column("pulled through"),
    Column("tube OD", "mm", 1),
    Column("angle to the wall", "deg"),
    Column("from-joint passes"),
    Column("to-joint passes"),
)
_PARTS = (
    ("former", "passage", "station", "across", "up z", "drill", "grommet wall", "clear"),
    ("former", "passage", "across is", "edge", "sealed", "centre to edge"),
    ("former", "passage", "line", "pulled through", "tube OD", "angle to the wall"),
    ("former", "line", "from-joint passes", "to-joint passes"),
)


def passages(layout: Layout) -> Table:
    """Schedule of all passages, a row for each line in each of them, in the order of pulling."""
    rows: list[tuple[Cell, ...]] = []
    for former, passage, lines in threaded(layout):
        head = _hole(former, passage)
        order = sorted(lines, key=lambda line: -layout.tube_of(line).outside_diameter)
        if not order:
            rows.append((*head, "", None, None, None, "", ""))
        for number, line in enumerate(order, start=1):
            rows.append((*head, *_line(layout, line, former, passage, number)))
    notes = (
        f"Datum: {layout.origin}.",
        "Pull the thickest tube through first. A joint that does not pass is fitted after the "
        "tube is through; drill the grommet's hole at the diameter given, not at the tube's.",
        "Angle to the wall: 90 deg is square.",
    )
    return Table("passages", "Passages to drill", _COLUMNS, tuple(rows), notes, _PARTS)


def _hole(former: Former, passage: Passage) -> tuple[Cell, ...]:
    edge = edge_distance(former, passage) * MM if former.outline else None
    return (
        former.name,
        passage.name,
        former.station * MM,
        passage.at[0] * MM,
        passage.at[1] * MM,
        "y, starboard" if former.across == "x" else "x, aft",
        passage.diameter * MM,
        None if passage.grommet is None else passage.grommet * MM,
        clear(passage) * MM,
        passage.edge or "not stated",
        passage.sealed.words,
        edge,
    )


def clear(passage: Passage) -> float:
    """Diameter left inside the grommet [m]."""
    return max(passage.diameter - 2.0 * (passage.grommet or 0.0), 0.0)


def _line(
    layout: Layout, line: Line, former: Former, passage: Passage, number: int
) -> tuple[Cell, ...]:
    tube = layout.tube_of(line)
    pierced = nearest(piercings(layout, line, former), passage.at)
    passes = (_passes(layout.joint_at(line, end), tube, passage) for end in ("from", "to"))
    return (
        line.name,
        float(number),
        tube.outside_diameter * MM,
        None if pierced is None else math.degrees(pierced.angle),
        *passes,
    )


def _passes(joint: Joint | None, tube: Tube, passage: Passage) -> str:
    widest = joint_diameter(joint, tube) if joint else None
    if widest is None:
        return "not stated"
    return "yes" if widest <= clear(passage) else f"no, {widest * MM:.1f} mm: fit after"


def joint_diameter(joint: Joint, tube: Tube) -> float | None:
    """Largest diameter of a finished line end [m]; None where it is not known.

    A tube on a barb is stretched with its wall area kept; a wire lock adds its wire. The bodies
    of push-in, compression and threaded joints are not in the layout.
    """
    if joint.kind == "plain":
        return tube.outside_diameter
    if joint.kind not in ("barb", "bead") or joint.outside_diameter is None:
        return None
    barb = max(joint.outside_diameter, tube.inside_diameter)
    wall = tube.outside_diameter**2 - tube.inside_diameter**2
    return math.sqrt(barb**2 + wall) + (2.0 * _WIRE if joint.lock == "wire" else 0.0)
