"""Findings on the drawing: numbered marks by severity, and the legend that explains them."""

from collections.abc import Sequence

from plumbing.drawing import sheet
from plumbing.drawing.boxes import Box
from plumbing.drawing.figures import MARK_SIZE
from plumbing.drawing.palette import INK, PAPER, SEVERITY, SOFT
from plumbing.drawing.text import clean, elide, width, wrap
from plumbing.findings import Cause

MARKS_AT_A_PART = 4
SIZE = 2.6  # font size of the legend [mm]
PITCH = 3.5
SMALLER = 0.8  # mark in the legend, so that those of two rows keep apart
LEAD = 22.0  # room for mark, number and severity before the text [mm]


def by_part(causes: Sequence[Cause]) -> dict[str, list[int]]:
    """Numbers to set at each part and line; the first few, the legend has the rest."""
    marks: dict[str, list[int]] = {}
    for cause in causes:
        for name in cause.parts:
            numbers = marks.setdefault(name, [])
            if len(numbers) < MARKS_AT_A_PART:
                numbers.append(cause.number)
    return marks


def draw_mark(x: float, y: float, note: Cause) -> str:
    """Mark with its left edge at x and its middle at y: shape for severity, number beside it."""
    severity = str(note.severity)
    title = f"{note.number} {severity}: {clean(note.finding.what)}"
    shape = mark_shape(x + 1.7, y, severity)
    number = sheet.write(
        x + 3.6, y + 1.08, str(note.number), MARK_SIZE, bold=True, fill=SEVERITY[severity]
    )
    return sheet.group(
        [shape, number],
        title=title,
        class_=f"mark {severity}",
        data_finding=str(note.number),
        data_check=note.finding.check,
    )


def mark_shape(x: float, y: float, severity: str, scale: float = 1.0) -> str:
    """Filled octagon for unsafe, triangle for fault, circle for advice; about (x, y)."""
    colour = SEVERITY[severity]
    if severity == "unsafe":
        a, b = 1.65 * scale, 0.68 * scale
        corners = [(-b, -a), (b, -a), (a, -b), (a, b), (b, a), (-b, a), (-a, b), (-a, -b)]
        return sheet.polygon([(x + dx, y + dy) for dx, dy in corners], fill=colour)
    if severity == "fault":
        corners = [(0.0, -1.7), (1.75, 1.45), (-1.75, 1.45)]
        return sheet.polygon(
            [(x + scale * dx, y + scale * dy) for dx, dy in corners],
            fill=PAPER,
            stroke=colour,
            stroke_width=0.6 * scale,
            stroke_linejoin="round",
        )
    return sheet.circle(x, y, 1.4 * scale, fill=PAPER, stroke=colour, stroke_width=0.5 * scale)


def columns(room: float) -> int:
    """Columns of a legend `room` wide [mm]: rows of text over 150 mm long are hard to read."""
    return max(1, int(room // 120.0))


def legend_height(notes: Sequence[Cause], room: float) -> float:
    """Height that would hold every finding in a legend `room` wide [mm]."""
    count = columns(room)
    rows = sum(len(_rows(note, _column_width(room))) for note in notes)
    return PITCH * (2 + rows / count) + 3.0


def _column_width(room: float) -> float:
    count = columns(room)
    return (room - 4.0 * (count - 1)) / count


def _rows(note: Cause, room: float) -> list[str]:
    part = elide(clean(note.finding.part), 30.0, SIZE)
    text = f"{part}: {clean(note.finding.what)}" if part else clean(note.finding.what)
    if note.follows:
        text += f" ({len(note.follows)} more follow)"
    return wrap(text, room - LEAD, SIZE, 2)


def draw_legend(notes: Sequence[Cause], box: Box) -> tuple[list[str], list[Box]]:
    """Legend of the findings inside a box; says how many did not fit.

    Returns
    -------
    list of str, list of Box
        SVG parts, and the boxes of their text for checks of overlap.
    """
    out = [sheet.write(box.left, box.top + 3.0, "Findings", SIZE, bold=True, fill=INK)]
    texts: list[Box] = []
    if not notes:
        out.append(sheet.write(box.left + 18, box.top + 3.0, "none marked", SIZE, fill=SOFT))
        return out, texts
    wide, count = _column_width(box.width), columns(box.width)
    column, y = 0, box.top + 3.0
    for place, note in enumerate(notes):
        rows = _rows(note, wide)
        spare = 0 if place == len(notes) - 1 or column < count - 1 else 1
        if y + PITCH * (len(rows) + spare) > box.bottom - 0.6:
            if column == count - 1:
                more = f"and {len(notes) - place} more: all are in the report"
                x = box.left + column * (wide + 4.0) + LEAD
                out.append(sheet.write(x, y + PITCH, more, SIZE, fill=SOFT))
                texts.append(_text_box(x, y + PITCH, more))
                break
            column, y = column + 1, box.top + 3.0
        left = box.left + column * (wide + 4.0)
        out.append(_entry(note, rows, left, y, texts))
        y += PITCH * len(rows)
    return out, texts


def _entry(note: Cause, rows: list[str], left: float, y: float, texts: list[Box]) -> str:
    severity = str(note.severity)
    parts = [
        mark_shape(left + 1.7, y + PITCH - 0.95, severity, SMALLER),
        sheet.write(left + 4.0, y + PITCH, str(note.number), SIZE, bold=True),
        sheet.write(left + 9.6, y + PITCH, severity, SIZE, fill=SEVERITY[severity]),
    ]
    texts.append(_text_box(left + 9.6, y + PITCH, severity))
    for row in rows:
        y += PITCH
        parts.append(sheet.write(left + LEAD, y, row, SIZE))
        texts.append(_text_box(left + LEAD, y, row))
    return sheet.group(parts, class_="note", data_finding=str(note.number))


def _text_box(x: float, y: float, text: str) -> Box:
    return Box(x, y - 0.76 * SIZE, x + width(text, SIZE), y + 0.24 * SIZE)
