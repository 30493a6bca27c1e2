"""Placed figures and lines as SVG groups that a page can find and highlight."""

from plumbing.drawing import sheet
from plumbing.drawing.figures import Figure
from plumbing.drawing.marks import draw_mark
from plumbing.drawing.palette import INK, PAPER, stroke_of
from plumbing.drawing.routing import Point
from plumbing.drawing.symbols import TURNS, symbol
from plumbing.drawing.text import clean, width
from plumbing.drawing.vessel import draw_tank
from plumbing.drawing.wiring import Run
from plumbing.findings import Cause
from plumbing.model.tank import Tank
from plumbing.network import Flow

NUMBER = 3.0


def draw_figure(
    figure: Figure, used: frozenset[str], vented: frozenset[str], notes: dict[int, Cause]
) -> str:
    """A part: its symbol, text and marks in one group."""
    part = figure.item
    if isinstance(part, Tank):
        shapes = draw_tank(figure, figure.name in vented, used)
        breathes = "vented" if figure.name in vented else "no vent of its own"
        title = f"{figure.name}: {f'bag, {breathes}' if part.is_bag else breathes}"
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


def draw_run(run: Run, label: Figure, way: str, notes: dict[int, Cause]) -> str:
    """A line: its path, number, arrow, size and marks in one group."""
    stroke = stroke_of(run.role)
    style: dict[str, sheet.Value] = {
        "stroke": stroke.colour,
        "stroke_width": stroke.weight,
        "stroke_dasharray": stroke.dash,
        "stroke_linecap": None if stroke.dash else "round",
    }
    start, end = clean(".".join(run.start)), clean(".".join(run.end))
    inner = sheet.group(
        [*_tag(run, label), *_words(label, notes)],
        transform=f"translate({sheet.num(label.x)} {sheet.num(label.y)})",
    )
    return sheet.group(
        [sheet.path(way, **style), inner],
        title=f"line {run.number} {clean(run.line.name)}: {start} to {end}, {run.role}",
        id=sheet.slug("line", run.line.name),
        class_=f"line {run.role}",
        data_part=clean(run.line.name),
        data_number=str(run.number),
    )


def _words(figure: Figure, notes: dict[int, Cause]) -> list[str]:
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
        way = (0.0, -1.0) if label.turn == "up" else (0.0, 1.0)
        arrow = _arrow(x, 7.2, way, run)
    else:
        x, y = 3.0, 2.0
        arrow = _arrow(7.9, y, (1.0, 0.0), run)
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
    return [pill, text, *(sheet.polygon(points, fill=colour) for points in arrow)]


def _arrow(x: float, y: float, way: tuple[float, float], run: Run) -> list[list[Point]]:
    """Arrowheads about (x, y): one, two where flow goes either way, none where it is still."""
    flow = run.flow
    if flow is Flow.STILL:
        return []
    half, wide = 1.3, 0.95 + 0.6 * stroke_of(run.role).weight
    heads = [(0.0, 1.0)] if flow is not Flow.EITHER else [(0.7, 1.0), (-0.7, -1.0)]
    shapes = []
    for shift, sense in heads:
        long = half if flow is not Flow.EITHER else 0.7
        middle = x + way[0] * shift, y + way[1] * shift
        tip = middle[0] + way[0] * sense * long, middle[1] + way[1] * sense * long
        base = middle[0] - way[0] * sense * long, middle[1] - way[1] * sense * long
        across = way[1] * wide, way[0] * wide
        shapes.append(
            [
                (base[0] - across[0], base[1] - across[1]),
                (base[0] + across[0], base[1] + across[1]),
                tip,
            ]
        )
    return shapes
