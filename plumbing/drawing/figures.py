"""Every part and line label as a figure with a size, ports and text, before it is placed.

All sizes are whole steps of the routing grid, so that ports meet lines exactly.
"""

from dataclasses import dataclass, field
from math import ceil

from plumbing.drawing.boxes import Box
from plumbing.drawing.notes import notes_of
from plumbing.drawing.text import clean, elide, width, wrap
from plumbing.drawing.wiring import Run, kind_of
from plumbing.frozen import frozen
from plumbing.model.layout import Part

STEP = 2.0  # routing grid [mm]
SMALL = 3.0  # font size of notes [mm]
NAME = 3.2  # font size of names [mm]
ROW = 3.6  # row pitch [mm]
MARK_SIZE = 3.0  # font size of the numbers of findings [mm]
MARK_ROW = 4.2  # pitch of rows of marks [mm]
LONG_WORD = 21.0  # a word up to this width is not cut [mm]
SYMBOL = 8.0  # side of a small symbol [mm]


@frozen
class Row:
    """A row of text in a figure; x, y of its baseline from the figure's corner [mm]."""

    x: float
    y: float
    text: str
    size: float = SMALL
    bold: bool = False
    anchor: str = "start"

    def box(self) -> Box:
        """Room the text takes."""
        w = width(self.text, self.size, self.bold)
        left = self.x - {"start": 0.0, "middle": w / 2, "end": w}[self.anchor]
        return Box(left, self.y - 0.76 * self.size, left + w, self.y + 0.24 * self.size)


@frozen
class Spot:
    """Where a line joins a figure, from the figure's corner [mm]; side `any` is a dot."""

    x: float
    y: float
    side: str


@dataclass(slots=True)
class Figure:
    """A part or a line label that is being placed.

    Attributes
    ----------
    key : str
        Its name in the graph that is placed.
    name, kind : str
        Name of the part or line; kind of symbol, or `label`.
    item : Part or Run
        What it shows.
    symbol : Box
        Outline of the symbol from the figure's corner [mm].
    width, height : float
        Size of the whole figure [mm], a whole number of steps.
    ports : dict of str to Spot
        Where lines join.
    rows : list of Row
        Text.
    marks : list of (float, float, int)
        Marks of findings: left edge and middle [mm], number.
    turn : str
        Way the flow leaves `out`: right, left, up, down.
    x, y : float
        Corner on the sheet [mm], once placed.
    """

    key: str
    name: str
    kind: str
    item: Part | Run
    symbol: Box
    width: float
    height: float
    ports: dict[str, Spot]
    rows: list[Row] = field(default_factory=list)
    marks: list[tuple[float, float, int]] = field(default_factory=list)
    turn: str = "right"
    x: float = 0.0
    y: float = 0.0

    def box(self) -> Box:
        """The whole figure on the sheet."""
        return Box(self.x, self.y, self.x + self.width, self.y + self.height)

    def blocks(self) -> list[Box]:
        """What no line of another figure may pass: symbol, text, marks."""
        own = [row.box() for row in self.rows]
        own += [Box(x, y - 1.8, x + mark_width(n), y + 1.8) for x, y, n in self.marks]
        return [box.moved(self.x, self.y) for box in [self.symbol, *own]]

    def spot(self, port: str) -> Spot:
        """A port on the sheet."""
        at = self.ports[port]
        return Spot(self.x + at.x, self.y + at.y, at.side)


def up_to_step(value: float, step: float = STEP) -> float:
    """Smallest whole number of steps that is not less."""
    return ceil(round(value / step, 6)) * step


def small_figure(key: str, part: Part, turn: str, marks: list[int]) -> Figure:
    """A small symbol on the main stream: text and marks below it."""
    kind = kind_of(part)
    w, h = (16.0, 12.0) if kind == "engine" else (SYMBOL, SYMBOL)
    texts = _names(part.name, 14.0 if w == SYMBOL else 22.0, 3) + _notes(part)
    need = max([w, *(width(t, s, b) for t, s, b in texts), mark_size(marks, 15.0)[1]])
    total = w + up_to_step(need - w, 2 * STEP)
    left = (total - w) / 2
    ports = {
        "in": Spot(left, h / 2, "left"),
        "out": Spot(left + w, h / 2, "right"),
        "feed": Spot(left, h / 2, "left"),
    }
    if turn == "left":
        ports["in"], ports["out"] = ports["out"], ports["in"]
    ports["tube"] = ports["out" if kind == "fill" else "in"]
    figure = Figure(
        key, part.name, kind, part, Box(left, 0, left + w, h), total, h, ports, turn=turn
    )
    write_below(figure, texts, marks, total / 2, "middle")
    return figure


def write_below(
    figure: Figure,
    texts: list[tuple[str, float, bool]],
    marks: list[int],
    x: float,
    anchor: str,
) -> None:
    """Add rows of text and a row of marks under what the figure holds so far."""
    y = figure.height + 0.4
    for text, size, bold in texts:
        y += ROW
        figure.rows.append(Row(x, y - 0.7, text, size, bold, anchor))
    wide = mark_size(marks, figure.width)[1]
    left = x - (wide / 2 if anchor == "middle" else 0)
    y = _mark_rows(figure, marks, left, y, figure.width)
    figure.height = up_to_step(y)


def mark_width(number: int) -> float:
    """Room for a finding's mark with its number beside it [mm]."""
    return 3.6 + width(str(number), MARK_SIZE, bold=True) + 0.6


def mark_size(marks: list[int], room: float) -> tuple[int, float, float]:
    """Marks in a row, and width and height of all rows [mm]."""
    if not marks:
        return 1, 0.0, 0.0
    slot = max(mark_width(number) for number in marks)
    in_row = max(1, min(len(marks), int(room / slot)))
    return in_row, in_row * slot, -(-len(marks) // in_row) * MARK_ROW + 0.4


def _mark_rows(figure: Figure, marks: list[int], left: float, y: float, room: float) -> float:
    in_row, wide, high = mark_size(marks, room)
    for place, number in enumerate(marks):
        row, column = divmod(place, in_row)
        at = y + 0.4 + (row + 0.5) * MARK_ROW
        figure.marks.append((left + wide / in_row * column, at, number))
    return y + high


def side_figure(key: str, part: Part, turn: str, above: bool, marks: list[int]) -> Figure:
    """A small symbol off the main stream, on a line that runs up or down: text at its right."""
    kind = kind_of(part)
    texts = _names(part.name, 20.0, 3) + _notes(part)
    _, marks_wide, marks_high = mark_size(marks, 18.0)
    high = max(SYMBOL, up_to_step(len(texts) * ROW + marks_high))
    top = high - SYMBOL if above else 0.0
    half = SYMBOL / 2
    first, last = Spot(half, top + SYMBOL, "bottom"), Spot(half, top, "top")
    ports = {"in": first, "out": last, "tube": first if above else last}
    if turn == "down":
        ports["in"], ports["out"] = last, first
    need = max([*(width(t, s, b) for t, s, b in texts), marks_wide])
    total = up_to_step(SYMBOL + 1.0 + need)
    figure = Figure(
        key, part.name, kind, part, Box(0, top, SYMBOL, top + SYMBOL), total, high, ports, turn=turn
    )
    y = 0.0
    for text, size, bold in texts:
        y += ROW
        figure.rows.append(Row(SYMBOL + 0.8, y - 0.7, text, size, bold))
    _mark_rows(figure, marks, SYMBOL + 0.8, y, 18.0)
    return figure


def tee_figure(key: str, part: Part, marks: list[int]) -> Figure:
    """A dot; lines may leave it on all four sides, so the text stands in the upper right corner."""
    texts = _names(part.name, 22.0, 2)
    _, marks_wide, marks_high = mark_size(marks, 22.0)
    high = up_to_step(len(texts) * ROW + marks_high + 1.4)
    need = max([*(width(t, s, b) for t, s, b in texts), marks_wide]) + 1.6
    total = up_to_step(2.0 + need)
    spot = Spot(2.0, high, "any")
    figure = Figure(
        key,
        part.name,
        "tee",
        part,
        Box(1.2, high - 0.8, 2.8, high + 0.8),
        total,
        high + 2.0,
        {"run-a": spot, "run-b": spot, "branch": spot},
    )
    y = high - len(texts) * ROW - 1.2
    for text, size, bold in texts:
        y += ROW
        figure.rows.append(Row(3.6, y - 0.7, text, size, bold))
    _mark_rows(figure, marks, 3.6, high - len(texts) * ROW - marks_high - 1.2, 22.0)
    return figure


def label_figure(key: str, run: Run, texts: list[str], upright: bool, marks: list[int]) -> Figure:
    """A line's number on the line, its arrow, and its size and length beside it."""
    _, marks_wide, marks_high = mark_size(marks, 10.0)
    widest = max([*(width(text, SMALL) for text in texts), marks_wide])
    if upright:
        high = max(10.0, up_to_step(len(texts) * ROW + marks_high))
        ports = {"up": Spot(4.0, 0.0, "top"), "down": Spot(4.0, high, "bottom")}
        box = Box(1.0, 0.0, 7.0, high)
        w = up_to_step(8.0 + widest)
        figure = Figure(key, run.line.name, "label", run, box, w, high, ports, turn="up")
        y = 0.0
        for text in texts:
            y += ROW
            figure.rows.append(Row(8.0, y - 0.7, text))
        _mark_rows(figure, marks, 8.0, y, 10.0)
        return figure
    w = max(10.0, up_to_step(widest))
    ports = {"in": Spot(0.0, 2.0, "left"), "out": Spot(w, 2.0, "right")}
    box = Box(0.0, -0.2, w, 4.2)
    figure = Figure(key, run.line.name, "label", run, box, w, 4.0, ports)
    write_below(figure, [(text, SMALL, False) for text in texts], marks, w / 2, "middle")
    return figure


def _names(name: str, room: float, rows: int) -> list[tuple[str, float, bool]]:
    """Rows of a name; a single long word, such as starboard, may ask for some more room."""
    longest = max((width(word, NAME, True) for word in clean(name).split()), default=0.0)
    room = max(room, min(longest, LONG_WORD))
    return [(row, NAME, True) for row in wrap(clean(name), room, NAME, rows, bold=True)]


def _notes(part: Part) -> list[tuple[str, float, bool]]:
    return [(elide(text, 26.0, SMALL), SMALL, False) for text in notes_of(part)]
