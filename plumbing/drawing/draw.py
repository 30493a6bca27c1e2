"""Placed figures and lines as SVG groups that a page can find and highlight."""

from plumbing.drawing import sheet
from plumbing.drawing.figures import Figure
from plumbing.drawing.marks import Note, draw_mark
from plumbing.drawing.palette import INK, PAPER, stroke_of
from plumbing.drawing.symbols import TURNS, symbol
from plumbing.drawing.text import clean, width
from plumbing.drawing.vessel import draw_tank
from plumbing.drawing.wiring import Run
from plumbing.model.tank import Tank

NUMBER = 3.0


def draw_figure(
    figure: Figure, used: frozenset[str], vented: frozenset[str], notes: dict[int, Note]
) -> str:
    """A part: its symbol, text and marks in one group."""
    part = figure.item
    if isinstance(part, Tank):
        shapes = draw_tank(figure, figure.name in vented, used)
        title = f"{figure.name}: {'vented' if figure.name in vented else 'no vent of its own'}"
    else:
        assert not isinstance(part, Run)
        box = figure.symbol
        middle = (box.left + box.right) / 2, (box.top + box.bottom) / 2
        turn = 0 if figure.kind == "engine" else TURNS[figure.turn]
        move = f"translate({sheet.num(middle[0])} {sheet.num(middle[1])})"
        move += f" rotate({turn})" if turn else ""
        shapes = [sheet.group(symbol(figure.kind, part), transform=move)]
        title = figure.name
    return sheet.group(
        [*shapes, *_words(figure, notes)],
        title=f"{figure.kind} {clean(title)}",
        id=sheet.slug("part", figure.name),
        class_=f"part {figure.kind}",
        data_part=clean(figure.name),
        transform=f"translate({sheet.num(figure.x)} {sheet.num(figure.y)})",
    )


def draw_run(run: Run, label: Figure, way: str, notes: dict[int, Note]) -> str:
    """A line: its path, number, arrow, size and marks in one group."""
    stroke = stroke_of(run.role)
    style: dict[str, sheet.Value] = {
        "stroke": stroke.colour,
        "stroke_width": stroke.weight,
        "stroke_dasharray": stroke.dash,
        "stroke_linecap": None if stroke.dash else "round",
    }
    start, end = f"{run.start[0]}.{run.start[1]}", f"{run.end[0]}.{run.end[1]}"
    inner = sheet.group(
        [*_tag(run, label), *_words(label, notes)],
        transform=f"translate({sheet.num(label.x)} {sheet.num(label.y)})",
    )
    return sheet.group(
        [sheet.path(way, **style), inner],
        title=f"line {run.number} {clean(run.line.name)}: {clean(start)} to {clean(end)}, {run.role}",
        id=sheet.slug("line", run.line.name),
        class_=f"line {run.role}",
        data_part=clean(run.line.name),
        data_number=str(run.number),
    )


def _words(figure: Figure, notes: dict[int, Note]) -> list[str]:
    out = [
        sheet.write(row.x, row.y, row.text, row.size, bold=row.bold, anchor=row.anchor)
        for row in figure.rows
    ]
    return out + [draw_mark(x, y, notes[number]) for x, y, number in figure.marks]


def _tag(run: Run, label: Figure) -> list[str]:
    """The number on the line and the arrow after it."""
    colour = stroke_of(run.role).colour
    number = str(run.number)
    wide = max(4.2, width(number, NUMBER, True) + 2.0)
    if label.turn in {"up", "down"}:
        x, y = 4.0, 3.0
        tip, base = (5.9, 8.3) if label.turn == "up" else (8.5, 6.1)
        arrow = [(x - 1.25, base), (x + 1.25, base), (x, tip)]
    else:
        x, y = 3.0, 2.0
        arrow = [(6.6, y - 1.25), (6.6, y + 1.25), (9.2, y)]
    pill = sheet.rect(
        x - wide / 2,
        y - 2.1,
        wide,
        4.2,
        rx=2.1,
        fill=PAPER,
        stroke=colour,
        stroke_width=0.4,
    )
    text = sheet.write(x, y + 1.08, number, NUMBER, anchor="middle", fill=INK)
    return [pill, text, sheet.polygon(arrow, fill=colour)]

