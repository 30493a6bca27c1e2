"""Rulers along two edges, the datum, the scale bar: so that a drawing can be measured."""

from math import ceil, floor

from plumbing.drawing import sheet
from plumbing.drawing.boxes import Box
from plumbing.drawing.palette import INK, RIM, SOFT
from plumbing.drawing.text import width
from plumbing.drawing.views import LETTERS, View

SIZE = 2.5
_STEPS = (10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000)


def spacing(view: View) -> int:
    """Distance between numbered ticks [mm of the aircraft], at least 14 mm on the sheet."""
    return next((step for step in _STEPS if step / view.scale >= 14.0), _STEPS[-1])


def draw_rulers(view: View, room: Box) -> list[str]:
    """Rulers under and left of a room, numbered in millimetres of the aircraft."""
    step = spacing(view)
    across, up = LETTERS[view.name]
    out = [
        sheet.line(room.left, room.bottom, room.right, room.bottom, stroke=RIM, stroke_width=0.3),
        sheet.line(room.left, room.top, room.left, room.bottom, stroke=RIM, stroke_width=0.3),
        sheet.write(room.right - 1.0, room.bottom - 1.2, f"{across} [mm]", SIZE, anchor="end"),
        sheet.write(room.left + 1.2, room.top + 3.0, f"{up} [mm]", SIZE),
    ]
    first = view.low * 1e3 + (room.left - view.left) * view.scale
    for value in _ticks(first, first + room.width * view.scale, step):
        x = view.left + (value - view.low * 1e3) / view.scale
        out.append(_tick(x, room.bottom, x, room.bottom + 1.5, value == 0))
        half = width(str(value), SIZE) / 2
        if room.left + half < x < room.right - half:
            out.append(
                sheet.write(x, room.bottom + 4.2, str(value), SIZE, anchor="middle", fill=SOFT)
            )
    last = view.high * 1e3 + (view.top - room.top) * view.scale
    for value in _ticks(last - room.height * view.scale, last, step):
        y = view.top + (view.high * 1e3 - value) / view.scale
        out.append(_tick(room.left - 1.5, y, room.left, y, value == 0))
        out.append(sheet.write(room.left - 2.1, y + 0.9, str(value), SIZE, anchor="end", fill=SOFT))
    return out + _datum(view, room)


def _ticks(low: float, high: float, step: int) -> list[int]:
    return [step * n for n in range(ceil(low / step), floor(high / step) + 1)]


def _tick(x1: float, y1: float, x2: float, y2: float, heavy: bool) -> str:
    return sheet.line(x1, y1, x2, y2, stroke=INK, stroke_width=0.5 if heavy else 0.25)


def _datum(view: View, room: Box) -> list[str]:
    """Chain lines through the origin, where it is on the sheet."""
    style: dict[str, sheet.Value] = {
        "stroke": RIM,
        "stroke_width": 0.25,
        "stroke_dasharray": "5 1 0.8 1",
    }
    x = view.left - view.low * 1e3 / view.scale
    y = view.top + view.high * 1e3 / view.scale
    out = []
    if room.left < x < room.right:
        out.append(sheet.line(x, room.top, x, room.bottom, **style))
    if room.top < y < room.bottom:
        out.append(sheet.line(room.left, y, room.right, y, **style))
    return [sheet.group(out, class_="datum")] if out else []


def draw_scale_bar(view: View, x: float, y: float, room: float) -> list[str]:
    """Bar of four equal pieces, which stays true when the print is not full size."""
    step = max((step for step in _STEPS if 4 * step / view.scale <= room), default=_STEPS[0])
    piece = step / view.scale
    out = []
    for place in range(4):
        out.append(
            sheet.rect(
                x + place * piece,
                y,
                piece,
                1.4,
                fill=INK if place % 2 == 0 else "none",
                stroke=INK,
                stroke_width=0.25,
            )
        )
    for place in (0, 2, 4):
        text = f"{step * place}" + (" mm" if place == 4 else "")
        anchor = "start" if place == 4 else "middle"
        shift = -1.5 if place == 4 else 0.0
        at = x + place * piece + shift
        out.append(sheet.write(at, y + 4.2, text, SIZE, anchor=anchor))
    return out
