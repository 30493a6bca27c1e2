"""A layout with other tubes on some of its lines."""

import re
from collections.abc import Mapping
from dataclasses import replace

from plumbing.model.layout import Layout
from plumbing.model.line import Line, Tube
from plumbing.model.parts import Joint

BARB_BORE = 0.9  # bore of a barb made for a tube, over the tube's bore; common practice
BARB_SIZE = 0.87  # bore of a tube over the barb made for it; common practice


def with_tubes(layout: Layout, tubes: Mapping[str, str], new_joints: bool) -> Layout:
    """The same layout with tubes changed, by name of the line.

    Parameters
    ----------
    layout : Layout
        The layout.
    tubes : mapping of str to str
        Tube of each line to be changed.
    new_joints : bool
        Whether these lines get barbs made for their tubes.
    """
    lines = {
        name: line_with(line, tubes[name], new_joints) if name in tubes else line
        for name, line in layout.lines.items()
    }
    if not new_joints:
        return replace(layout, lines=lines)
    made = {joint.name: joint for name in tubes.values() for joint in [made_for(layout, name)]}
    return replace(layout, lines=lines, joints={**layout.joints, **made})


def line_with(line: Line, tube: str, new_joints: bool) -> Line:
    """A line with another tube, and where asked with barbs made for it."""
    if not new_joints:
        return replace(line, tube=tube)
    return replace(line, tube=tube, joint=_joint_name(tube), from_joint=None, to_joint=None)


def made_for(layout: Layout, name: str) -> Joint:
    """A barb made for a tube."""
    tube = tube_named(layout, name)
    return Joint(
        name=_joint_name(name),
        kind="barb",
        bore=BARB_BORE * tube.inside_diameter,
        outside_diameter=tube.inside_diameter / BARB_SIZE,
        lock="wire",
        straight=2.5 * tube.outside_diameter,
    )


def _joint_name(tube: str) -> str:
    """A name that a file may have: words and hyphens, 40 characters."""
    return re.sub(r"[^\w -]", "-", f"barb for {tube}")[:40]


def tube_named(layout: Layout, name: str) -> Tube:
    """A tube of the file, else of the catalogue."""
    return layout.tubes.get(name) or layout.catalogue[name]
