"""A tube goes through a former at too flat an angle.

Why: A slanting tube bears on two edges of the hole, and a round grommet does not seat on it.
Cure: Turn the route so that it meets the wall squarely, or drill along the tube and fit a liner.

Bad::

    lines: {feed: {route: [[455 mm, 0 mm, 60 mm], [465 mm, 0 mm, 110 mm]]}}

Good::

    lines: {feed: {route: [[300 mm, 0 mm, 110 mm], [520 mm, 0 mm, 110 mm]]}}
"""

import math

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.checks.words import subject
from plumbing.model.structure import Former, Passage
from plumbing.network.former_holes import nearest, piercings, threaded
from plumbing.units import show

SEVERITY = Severity.ADVICE
SOURCE = "common practice; a cylinder through a plate"
LIMIT = Limit("60 deg", "angle")  # between tube and wall; 90 deg is square
_STRAIGHT = math.radians(5.0)  # a tube bends so far in its hole


def find(case: Case, limit: float) -> Says:
    for former, passage, lines in threaded(case.layout):
        for line in lines:
            pierced = nearest(piercings(case.layout, line, former), passage.at)
            if pierced is None:
                continue
            angle = pierced.angle
            said = (
                f"{subject('line', line.name)} goes through {former.name} at "
                f"{show(angle, 'angle', 2)} to the wall; "
            )
            tube = case.layout.tube_of(line).outside_diameter
            needed, clear = _needed(tube, former, angle), _clear(passage)
            if len(lines) == 1 and clear < needed:
                what = (
                    f"{said}so it needs {show(needed, 'length')}, and passage {passage.name} "
                    f"leaves {show(clear, 'length')}."
                )
                figures = Figure(needed, "length"), Figure(clear, "length")
                parts, worse = (former.name,), Severity.FAULT
                yield Found(line.name, what, *figures, "route", parts, severity=worse)
            elif angle < limit:
                what = f"{said}{show(limit, 'angle', 2)} is the least."
                figures = Figure(angle, "angle"), Figure(limit, "angle")
                yield Found(line.name, what, *figures, "route", (former.name,))


def _needed(tube: float, former: Former, angle: float) -> float:
    """Hole that a straight tube passes through a wall at an angle to it [m]."""
    slant = max(0.0, 0.5 * math.pi - angle - _STRAIGHT)
    return tube / math.cos(slant) + former.thickness * math.tan(slant)


def _clear(passage: Passage) -> float:
    """Width that a passage leaves [m]; a grommet yields by half of its wall on each side."""
    return passage.diameter - (passage.grommet or 0.0)
