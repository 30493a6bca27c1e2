"""Guide blocks to be printed, which lead the drill at the angle of a tube through a former.

A block stands on the face of the former that its template is glued to. Its seat is the plane of
z = 0, on which it is printed; x is to the right and y up as the template is seen, from the centre
of the passage. Notches in its four sides stand on the passage's centre lines, and the corner
without a tip goes up and to the right. The bore enters the face aside of the centre, so that the
hole's axis passes the passage's centre in the middle of the former.
"""

import math

import numpy as np

from plumbing.drawing.templates import refuse_unknown
from plumbing.drawing.text import clean
from plumbing.errors import UsageError
from plumbing.frozen import frozen
from plumbing.geometry.mesh import Mesh
from plumbing.geometry.pierced import pierced
from plumbing.geometry.surface import ring_round, slid
from plumbing.model.layout import Layout
from plumbing.model.line import Line
from plumbing.model.structure import Former, Passage
from plumbing.network.former_holes import axes_of, nearest, piercings, threaded
from plumbing.physics.arrays import Array
from plumbing.units import show

# Common practice, from memory, of drill bushings and of printed parts.
CLEARANCE = 0.3e-3  # of the bore over the drill [m]: printed holes come out 0.1 to 0.3 mm narrow
GUIDE = 2.0  # height in diameters of the drill: bushings are 1.5 to 3 of them long
LOW, HIGH = 0.012, 0.030  # of the height [m]: stands without rocking; leaves room for the drill
WALL = 6e-3  # round the bore [m]: stiff, and room to hold it or to tape it down
NOTCH = 1.5e-3  # depth of a notch, and half its width [m]: seen, and far from the bore
TIP = 4e-3  # taken off the corner [m]
LARGEST = 0.020  # a larger hole is sawn [m]
STEEPEST = math.radians(45.0)  # off square: a drill that slants more slips before it bites
FACETS = 48  # round the bore


@frozen
class Jigs:
    """Guide blocks of a layout.

    Attributes
    ----------
    blocks : dict of (str, str) to Mesh
        By former and passage; see the head of this module for their axes.
    left : tuple of str
        Why some passages have none, a sentence each.
    """

    blocks: dict[tuple[str, str], Mesh]
    left: tuple[str, ...]


def jigs(layout: Layout, former: str | None = None) -> Jigs:
    """Guide blocks for the passages of all formers, or of one.

    Raises
    ------
    UsageError
        There is no such former, or no passage can have one.
    """
    refuse_unknown(layout, former)
    blocks: dict[tuple[str, str], Mesh] = {}
    left = []
    for plate, passage, lines in threaded(layout):
        if former not in (None, plate.name):
            continue
        found = _slope(layout, plate, passage, lines)
        if isinstance(found, str):
            left.append(f"{clean(plate.name)}.{clean(passage.name)} has no guide block: {found}.")
        else:
            blocks[plate.name, passage.name] = block(passage.diameter, plate.thickness, found)
    if not blocks:
        raise UsageError(" ".join(left) or "there is no passage to drill; add `passages:`")
    return Jigs(blocks, tuple(left))


def _slope(
    layout: Layout, former: Former, passage: Passage, lines: tuple[Line, ...]
) -> tuple[float, float] | str:
    """How far a hole goes right and up for its way out of the former [-], or why not."""
    if passage.diameter > LARGEST:
        return f"a hole over {show(LARGEST, 'length')} is sawn, not drilled"
    way = np.zeros(3)
    for line in lines:
        met = nearest(piercings(layout, line, former), passage.at)
        if met is not None:
            out = axes_of(former) @ np.array(met.way)
            way += math.copysign(1.0, out[2]) * out
    if not way.any():
        return (0.0, 0.0)  # nothing goes through yet: square
    aside = math.hypot(way[0], way[1])
    if aside > way[2] * math.tan(STEEPEST) * (1.0 + 1e-9):
        slant = math.atan2(aside, way[2])
        return (
            f"its tube slants {show(slant, 'angle', 2)} off square, and a drill slips at more "
            f"than {show(STEEPEST, 'angle', 2)}"
        )
    return float(way[0] / way[2]), float(way[1] / way[2])


def block(diameter: float, thickness: float, slope: tuple[float, float]) -> Mesh:
    """Guide block for one hole, in its own axes.

    Parameters
    ----------
    diameter : float
        Of the drill [m].
    thickness : float
        Of the former [m].
    slope : tuple of float
        How far the hole goes right and up for its way out of the former [-].
    """
    height = min(max(GUIDE * diameter, LOW), HIGH)
    run = np.array([*slope, 1.0])
    way = run / np.linalg.norm(run)
    round_ = ring_round(way, 0.5 * (diameter + CLEARANCE), FACETS)
    floor = np.array([0.0, 0.0, 1.0])
    seat, top = (
        slid(round_, way, (0.5 * thickness + z) * run, floor)[:, :2] for z in (0.0, height)
    )
    return pierced(_outline(np.concatenate([seat, top])), 0.0, height, [(seat, top)])


def _outline(bore: Array) -> Array:
    """Outline of a block round both rims of its bore, with notches on the axes [m]."""
    left, low = np.minimum(bore.min(axis=0) - WALL, -2.0 * NOTCH)
    right, high = np.maximum(bore.max(axis=0) + WALL, 2.0 * NOTCH + TIP)
    n = NOTCH
    return np.array(
        [
            (left, low), (-n, low), (0.0, low + n), (n, low),
            (right, low), (right, -n), (right - n, 0.0), (right, n),
            (right, high - TIP), (right - TIP, high),
            (n, high), (0.0, high - n), (-n, high),
            (left, high), (left, n), (left + n, 0.0), (left, -n),
        ]
    )  # fmt: skip
