"""The schematic: the plumbing as a single-line diagram with standard symbols."""

from collections.abc import Mapping, Sequence
from pathlib import PurePath

from plumbing.drawing import frame, marks, sheet
from plumbing.drawing.boxes import Box, around
from plumbing.drawing.draw import draw_figure, draw_run
from plumbing.drawing.figures import Figure
from plumbing.drawing.palette import INK, STROKES
from plumbing.drawing.placing import place as place_figures
from plumbing.drawing.plan import Plan, kinds, lay_out
from plumbing.drawing.routing import Point, Route, route
from plumbing.drawing.strokes import crossings, path_data, track
from plumbing.drawing.text import clean
from plumbing.drawing.vessel import INNER, inner_kinds
from plumbing.drawing.wiring import Wiring, wire
from plumbing.findings import Cause
from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.model.tank import Tank
from plumbing.network import Survey

LEAST_SCALE = 0.74  # keeps the smallest text at 2.2 mm
MOST_SCALE = 1.3
STRIP = 46.0  # height of the strip at the foot [mm]
AIR = 4.0  # between rim and drawing [mm]
_SPACINGS = ((4.0, 2.0), (4.0, 4.0), (8.0, 8.0), (14.0, 14.0))
_NOTES = "tube OD x ID and length, height z in mm; numbers in tanks: feed order"


@frozen
class Placed:
    """A schematic with everything in its place, before it is drawn.

    Attributes
    ----------
    size : str
        Paper size, such as A4.
    scale : float
        From the drawing's own millimetres to those of the sheet.
    dx, dy : float
        Shift after scaling [mm].
    strip : float
        Height of the strip at the foot [mm].
    plan : Plan
        Figures in their places.
    routes : tuple of Route
        Lines between them.
    wiring : Wiring
        How the layout was read.
    notes : tuple of Cause
        Findings with their numbers.
    """

    size: str
    scale: float
    dx: float
    dy: float
    strip: float
    plan: Plan
    routes: tuple[Route, ...]
    wiring: Wiring
    notes: tuple[Cause, ...]

    def field(self) -> Box:
        """Where the diagram may lie on the sheet [mm]."""
        rim = frame.rim(self.size)
        return Box(rim.left, rim.top, rim.right, rim.bottom - self.strip)

    def symbols(self) -> list[tuple[str, Box]]:
        """Owner and outline of every symbol on the sheet [mm]."""
        return [
            (figure.name, self._on_sheet(figure.symbol.moved(figure.x, figure.y)))
            for figure in self.plan.figures.values()
        ]

    def texts(self) -> list[tuple[str, Box]]:
        """Owner and box of every text and mark of the diagram on the sheet [mm]."""
        return [
            (figure.name, self._on_sheet(box))
            for figure in self.plan.figures.values()
            for box in figure.blocks()[1:]
        ]

    def lines(self) -> list[tuple[Route, tuple[Point, ...]]]:
        """Every stretch of line with its corners on the sheet [mm]."""
        return [
            (
                one,
                tuple((x * self.scale + self.dx, y * self.scale + self.dy) for x, y in one.points),
            )
            for one in self.routes
        ]

    def legs_of(self, number: int) -> list[Route]:
        """Routes of a line's two legs, in the order of the plan."""
        own = [one for one in self.routes if one.leg.run.number == number]
        return sorted(own, key=lambda one: one.leg.tail == f"l{number}")

    def _on_sheet(self, box: Box) -> Box:
        return box.scaled(self.scale, self.dx, self.dy)


def schematic(
    layout: Layout,
    survey: Survey,
    causes: Sequence[Cause] = (),
    *,
    peak: Mapping[str, float] | None = None,
    date: str = "",
) -> str:
    """Draw the schematic of a layout.

    Parameters
    ----------
    layout : Layout
        The layout.
    survey : Survey
        Roles, directions and lengths of its lines.
    causes : sequence of Cause
        Marked on the parts and explained in a legend.
    peak : mapping of str to float, optional
        Volume flow of lines [m3/s] to be written at them.
    date : str
        Date for the title block, in words; empty for none.

    Returns
    -------
    str
        SVG text, one user unit to the millimetre.
    """
    placed = place(layout, survey, causes, peak=peak)
    return draw(placed, layout, date=date)


def place(
    layout: Layout,
    survey: Survey,
    causes: Sequence[Cause] = (),
    *,
    peak: Mapping[str, float] | None = None,
) -> Placed:
    """Place a schematic without drawing it; arguments as for `schematic`."""
    wiring = wire(layout, survey)
    plan, routes = _arrange(layout, wiring, marks.by_part(causes), dict(peak or {}))
    size, scale, dx, dy, strip = _fit(_extent(plan, routes), causes)
    return Placed(size, scale, dx, dy, strip, plan, tuple(routes), wiring, tuple(causes))


def _arrange(
    layout: Layout, wiring: Wiring, found: dict[str, list[int]], peak: dict[str, float]
) -> tuple[Plan, list[Route]]:
    """Tightest spacing in which every line finds a way of its own, or the best there is."""
    for across, along in _SPACINGS:
        plan = lay_out(layout, wiring, found, peak)
        if not plan.figures:
            return plan, []
        place_figures(plan, across, along)
        routes = route(plan)
        if routes is not None:
            return plan, routes
    return plan, route(plan, thorough=True) or []


def _extent(plan: Plan, routes: list[Route]) -> Box:
    boxes = [box for figure in plan.figures.values() for box in (figure.box(), *figure.blocks())]
    boxes += [Box(x, y, x, y) for one in routes for x, y in one.points]
    return around(boxes or [Box(0, 0, 1, 1)])


def _fit(extent: Box, notes: Sequence[Cause]) -> tuple[str, float, float, float, float]:
    """Smallest sheet that holds the drawing legibly, its scale, shift and strip height."""
    for size in frame.SHEETS:
        rim = frame.rim(size)
        wide, high = rim.width - 2 * AIR, rim.height - STRIP - 2 * AIR
        scale = min(wide / extent.width, high / extent.height, MOST_SCALE)
        if scale >= LEAST_SCALE or size == "A0":
            break
    spare = high - extent.height * scale
    room = frame.strip_boxes(size, STRIP)[0].width
    strip = STRIP + max(0.0, min(marks.legend_height(notes, room) + 2 - STRIP, spare * 0.8))
    high = rim.height - strip
    dx = rim.left + (rim.width - extent.width * scale) / 2 - extent.left * scale
    dy = rim.top + (high - extent.height * scale) / 2 - extent.top * scale
    return size, scale, dx, dy, strip


def draw(placed: Placed, layout: Layout, *, date: str = "") -> str:
    """Draw a placed schematic as SVG text."""
    num = sheet.num
    move = f"translate({num(placed.dx)} {num(placed.dy)}) scale({placed.scale:.5f})"
    legend_box, key_box, title_box = frame.strip_boxes(placed.size, placed.strip)
    small = (_NOTES, f"z counts up from: {layout.origin.partition(';')[0]}")
    title = frame.Title(layout.title, "fuel system schematic", _file(layout), date, small)
    roles = [role for role in STROKES if any(run.role == role for run in placed.wiring.runs)]
    legend, _ = marks.draw_legend(placed.notes, legend_box)
    body = [
        *frame.draw_rim(placed.size, placed.strip),
        sheet.group(_diagram(placed), transform=move, class_="diagram", fill=INK),
        sheet.group(legend, class_="legend", fill=INK),
        sheet.group(frame.draw_key(_key_kinds(placed), roles, key_box), class_="key", fill=INK),
        sheet.group(
            frame.draw_title(title, title_box, placed.size), class_="title-block", fill=INK
        ),
    ]
    w, h = frame.SHEETS[placed.size]
    return sheet.page(w, h, body, f"Schematic: {clean(layout.title)}")


def _key_kinds(placed: Placed) -> list[str]:
    inner: set[str] = set()
    for figure in placed.plan.figures.values():
        if isinstance(figure.item, Tank):
            inner |= inner_kinds(figure.item, _used(placed, figure))
    return [*kinds(placed.plan), *(kind for kind in INNER if kind in inner)]


def _file(layout: Layout) -> str:
    return PurePath(layout.place.file).name


def _diagram(placed: Placed) -> list[str]:
    runs = placed.wiring.runs
    tracks = [track(placed.legs_of(run.number)) for run in runs]
    notes = {note.number: note for note in placed.notes}
    out = [
        draw_run(run, placed.plan.figures[f"l{run.number}"], path_data(points, gaps), notes)
        for run, points, gaps in zip(runs, tracks, crossings(tracks), strict=True)
        if points
    ]
    for figure in placed.plan.figures.values():
        if figure.kind != "label":
            out.append(draw_figure(figure, _used(placed, figure), placed.wiring.vented, notes))
    return out


def _used(placed: Placed, figure: Figure) -> frozenset[str]:
    ends = (end for run in placed.wiring.runs for end in (run.start, run.end))
    return frozenset(port for part, port in ends if part == figure.name)
