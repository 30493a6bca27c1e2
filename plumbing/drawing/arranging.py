"""Where things go in a view to scale: paper and scale, line numbers, names."""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from plumbing.drawing import frame, marks, views
from plumbing.drawing.boxes import Box, around
from plumbing.drawing.callouts import Board, Callout
from plumbing.drawing.figures import mark_width
from plumbing.drawing.scene import Scene, on_former, scene
from plumbing.drawing.text import clean, elide, width
from plumbing.drawing.views import View
from plumbing.errors import UsageError
from plumbing.findings import Cause
from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.model.tank import Tank
from plumbing.physics.arrays import Array

NAME = 2.6
STRIP = 46.0
TOGETHER = 1.7  # things nearer than this on the sheet share a label [mm]
LONGEST = 34.0  # room of a name [mm]
_RULER = (15.0, 7.0)  # room for the rulers, left and below [mm]
_AIR = 7.0
_SIZES = {"a4": ("A4", "A3"), "letter": ("letter", "tabloid")}
ENOUGH = 8.0  # reduction up to which the smaller paper will do


@frozen
class Named:
    """A label that was given its place.

    Attributes
    ----------
    name : str
        What it names.
    text : str
        What it says.
    callout : Callout
        Its place.
    numbers : tuple of int
        Findings marked after it.
    """

    name: str
    text: str
    callout: Callout
    numbers: tuple[int, ...] = ()


@frozen(eq=False)
class Elevation:
    """An elevation with everything in its place, before it is drawn.

    Attributes
    ----------
    size : str
        Paper size.
    view : View
        Axes and scale.
    room : Box
        Room within the rulers [mm].
    scene : Scene
        What is seen.
    labels : tuple of Named
        Names in their places.
    numbers : tuple of (str, (float, float))
        Lines with the place of their number [mm].
    notes : tuple of Cause
        Findings.
    """

    size: str
    view: View
    room: Box
    scene: Scene
    labels: tuple[Named, ...]
    numbers: tuple[tuple[str, tuple[float, float]], ...]
    notes: tuple[Cause, ...]


def place_elevation(
    layout: Layout,
    view: str = "side",
    causes: Sequence[Cause] = (),
    *,
    paper: str = "a4",
) -> Elevation:
    """Place an elevation without drawing it; arguments as for `elevation`."""
    if view not in views.AXES:
        raise UsageError(f"there is no view `{view}`; there are: {', '.join(views.AXES)}")
    axes = views.AXES[view]
    seen = scene(layout, axes)
    size, room, fitted = _fit(view, seen.extent(layout, axes), paper)
    board = Board(room)
    spots = _spots(layout, fitted)
    for _, (x, y) in spots:
        board.take(Box(x - 1.3, y - 1.3, x + 1.3, y + 1.3))
    if layout.aircraft.dry_cg:
        x, y = fitted.point(layout.aircraft.dry_cg)
        board.take(Box(x - 2.3, y - 2.3, x + 2.3, y + 2.3))
    numbers = _take_runs(board, fitted, seen)
    labels = _labels(board, fitted, seen, spots, marks.by_part(causes))
    return Elevation(size, fitted, room, seen, tuple(labels), tuple(numbers), tuple(causes))


def _fit(name: str, flat: Array, paper: str) -> tuple[str, Box, View]:
    """A4, or A3 where A4 would be smaller than 1 to 8; or letter and tabloid likewise."""
    best: tuple[str, Box, View] | None = None
    for size in _SIZES[paper]:
        rim = frame.rim(size)
        room = Box(
            rim.left + _RULER[0], rim.top + 2.0, rim.right - 2.0, rim.bottom - STRIP - _RULER[1]
        )
        fitted = views.fit(name, flat, room.grown(-_AIR))
        if fitted is not None:
            best = size, room, fitted
            if fitted.scale <= ENOUGH:
                break
    if best is None:
        raise UsageError("the layout is too large to be drawn to scale: check its positions")
    return best


def _take_runs(board: Board, view: View, seen: Scene) -> list[tuple[str, tuple[float, float]]]:
    """Points of lines and outlines as soft obstacles; a free place by each line for its number.

    A line that is seen end on, or has no free place, keeps its number to the other views.
    """
    ways = {name: view.sheet(flat) for name, flat in seen.runs.items()}
    for points in ways.values():
        board.soft += points
    for solid in seen.solids:
        for loop in solid.loops:
            board.soft += _dense(view.sheet(loop))
    numbers = []
    for name, points in ways.items():
        at = _number_place(board, points)
        if at is not None:
            board.take(_number_box(at))
            numbers.append((name, at))
    return numbers


def _dense(corners: list[tuple[float, float]]) -> list[tuple[float, float]]:
    points = []
    for (x1, y1), (x2, y2) in pairwise([*corners, corners[0]]):
        count = max(1, int(max(abs(x2 - x1), abs(y2 - y1)) / 2.5))
        points += [(x1 + (x2 - x1) * k / count, y1 + (y2 - y1) * k / count) for k in range(count)]
    return points


def _number_place(board: Board, points: list[tuple[float, float]]) -> tuple[float, float] | None:
    outline = around([Box(x, y, x, y) for x, y in points])
    if max(outline.width, outline.height) < 5.0:
        return None
    middle = len(points) // 2
    order = sorted(range(len(points)), key=lambda place: abs(place - middle))
    for shift in ((0.0, 0.0), (0.0, -3.4), (0.0, 3.4), (-3.8, 0.0), (3.8, 0.0)):
        for place in order:
            at = points[place][0] + shift[0], points[place][1] + shift[1]
            box = _number_box(at)
            if board.room.holds(box) and not any(box.meets(other) for other in board.taken):
                return at
    return None


def _number_box(at: tuple[float, float]) -> Box:
    return Box(at[0] - 2.6, at[1] - 2.0, at[0] + 2.6, at[1] + 2.0)


def _spots(layout: Layout, view: View) -> list[tuple[str, tuple[float, float]]]:
    """Small things to be named, with their place on the sheet."""
    spots = [
        (part.name, view.point(part.at)) for part in layout.parts() if not isinstance(part, Tank)
    ]
    for former in layout.formers.values():
        for hole in former.passages.values():
            spots.append((f"{former.name}.{hole.name}", view.point(on_former(former, hole.at))))
    return spots


def _shared(
    spots: list[tuple[str, tuple[float, float]]],
) -> list[tuple[list[str], tuple[float, float]]]:
    """Names of things that lie one behind the other in this view, taken together."""
    groups: list[tuple[list[str], tuple[float, float]]] = []
    for name, (x, y) in spots:
        for names, (left, top) in groups:
            if abs(x - left) < TOGETHER and abs(y - top) < TOGETHER:
                names.append(name)
                break
        else:
            groups.append(([name], (x, y)))
    return groups


def _together(names: list[str]) -> str:
    first, *rest = (elide(clean(name), LONGEST, NAME) for name in names)
    if len(rest) > 1:
        return f"{first} and {len(rest)} more"
    return ", ".join([first, *rest])


def _labels(
    board: Board,
    view: View,
    seen: Scene,
    spots: list[tuple[str, tuple[float, float]]],
    found: dict[str, list[int]],
) -> list[Named]:
    """Places for the names: of large things inside or beside them, of small ones around them."""
    wanted: list[tuple[list[str], str, tuple[float, float], Box | None]] = []
    for solid in reversed(seen.solids):
        if solid.kind in {"body", "assumed"}:
            continue  # named with its place
        points = view.sheet(np.concatenate(solid.loops))
        outline = around([Box(x, y, x, y) for x, y in points])
        middle = (outline.left + outline.right) / 2, (outline.top + outline.bottom) / 2
        words = clean(solid.name) + (f" ({solid.note})" if solid.note else "")
        wanted.append(([solid.name], words, middle, outline))
    for names, at in _shared(spots):
        wanted.append((names, _together(names), at, None))
    out = []
    for names, words, at, box in wanted:
        numbers = tuple(dict.fromkeys(n for name in names for n in found.get(name, ())))
        text = words if len(names) > 1 else elide(words, LONGEST, NAME)
        wide = width(text, NAME) + 0.6 + marks_width(numbers)
        out.append(Named(names[0], text, board.label(at, wide, 3.4, box), numbers))
    return out


def marks_width(numbers: tuple[int, ...]) -> float:
    """Room for marks after a name [mm]."""
    return sum(mark_width(number) for number in numbers)
