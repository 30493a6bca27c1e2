"""The sheet around the drawing: rim, strip with findings, key and title block."""

from plumbing.drawing import sheet
from plumbing.drawing.boxes import Box
from plumbing.drawing.palette import INK, PAPER, RIM, SOFT, STROKES
from plumbing.drawing.symbols import symbol
from plumbing.drawing.text import clean, elide, wrap
from plumbing.drawing.vessel import INNER, inner_symbol
from plumbing.frozen import frozen

EDGE = 7.0  # from the edge of the paper to the rim [mm]
TITLE_WIDE = 64.0
KEY_WIDE = 94.0
SIZE = 2.6
SHEETS = {
    "A4": (297.0, 210.0),
    "A3": (420.0, 297.0),
    "A2": (594.0, 420.0),
    "A1": (841.0, 594.0),
    "A0": (1189.0, 841.0),
    "letter": (279.4, 215.9),
    "tabloid": (431.8, 279.4),
}
WORDS = {
    "tank": "tank",
    "header": "header tank",
    "tee": "tee",
    "filter": "filter",
    "pump": "pump",
    "valve": "shut-off valve",
    "electric": "electric valve",
    "check": "check valve",
    "connector": "connector",
    "outlet": "vent outlet",
    "fill": "fill port",
    "drain": "drain",
    "engine": "engine",
    "fixed": "fixed pickup",
    "clunk": "clunk",
    "fine-pore": "fine-pore pickup",
    "capped": "port, capped",
    "left-open": "port, left open",
}


@frozen
class Title:
    """What the title block says.

    Attributes
    ----------
    name : str
        Title of the layout.
    kind : str
        What the drawing is.
    file, date : str
        Layout file and date, or empty.
    notes : tuple of str
        Small print, such as the units.
    scale : str
        Scale in words.
    """

    name: str
    kind: str
    file: str
    date: str
    notes: tuple[str, ...]
    scale: str = "not to scale"


def rim(size: str) -> Box:
    """The drawing's rim on a sheet."""
    w, h = SHEETS[size]
    return Box(EDGE, EDGE, w - EDGE, h - EDGE)


def draw_rim(size: str, strip: float) -> list[str]:
    """Paper, rim, and the rules of the strip at the foot."""
    w, h = SHEETS[size]
    box = rim(size)
    top = box.bottom - strip
    right = box.right - TITLE_WIDE
    middle = right - KEY_WIDE
    rule: dict[str, sheet.Value] = {"stroke": RIM, "stroke_width": 0.35}
    return [
        sheet.rect(0, 0, w, h, fill=PAPER),
        sheet.rect(
            box.left, box.top, box.width, box.height, fill="none", stroke=RIM, stroke_width=0.6
        ),
        sheet.line(box.left, top, box.right, top, **rule),
        sheet.line(right, top, right, box.bottom, **rule),
        sheet.line(middle, top, middle, box.bottom, **rule),
    ]


def strip_boxes(size: str, strip: float) -> tuple[Box, Box, Box]:
    """Boxes for legend, key and title within the strip."""
    box = rim(size)
    top = box.bottom - strip
    right = box.right - TITLE_WIDE
    middle = right - KEY_WIDE
    return (
        Box(box.left + 2, top + 1, middle - 2, box.bottom - 1),
        Box(middle + 2, top + 1, right - 2, box.bottom - 1),
        Box(right, top, box.right, box.bottom),
    )


def draw_title(title: Title, box: Box, size: str) -> list[str]:
    """Title block: name in large type, then what the sheet is, then the small print."""
    left, room = box.left + 3.0, box.width - 6.0
    out = [sheet.rect(box.left, box.top, box.width, 1.6, fill=INK)]
    y = box.top + 3.2
    for row in wrap(clean(title.name) or "untitled", room, 4.6, 2, bold=True):
        y += 5.2
        out.append(sheet.write(left, y - 1.0, row, 4.6, bold=True))
    y += 4.2
    out.append(sheet.write(left, y - 0.4, title.kind, 3.2))
    y += 1.4
    out.append(sheet.line(left, y, box.right - 3, y, stroke=RIM, stroke_width=0.25))
    facts = [("file", title.file), ("date", title.date)]
    for word, text in facts:
        if text:
            y += 3.7
            out.append(sheet.write(left, y, word, SIZE, fill=SOFT))
            out.append(sheet.write(left + 9, y, elide(clean(text), room - 9, SIZE), SIZE))
    for note in title.notes:
        for row in wrap(clean(note), room, SIZE, 2):
            y += 3.5
            if y < box.bottom - 6.0:
                out.append(sheet.write(left, y, row, SIZE, fill=SOFT))
    foot = box.bottom - 2.0
    out.append(sheet.write(left, foot, title.scale, SIZE, bold=True))
    out.append(sheet.write(box.right - 3, foot, f"sheet {size}", SIZE, anchor="end", fill=SOFT))
    return out


def draw_key(kinds: list[str], roles: list[str], box: Box) -> list[str]:
    """Key of the symbols and lines that are on the drawing."""
    out = [sheet.write(box.left, box.top + 3.0, "Key", SIZE, bold=True)]
    entries = [*((kind, True) for kind in kinds), *((role, False) for role in roles)]
    rows = max(1, int((box.height - 4.5) / 5.4))
    columns = max(1, -(-len(entries) // rows))
    pitch_x = box.width / max(columns, 2)
    for place, (name, is_symbol) in enumerate(entries):
        column, row = divmod(place, rows)
        x, y = box.left + column * pitch_x, box.top + 4.2 + (row + 0.5) * 5.4
        out.append(_key_symbol(name, x + 3.4, y) if is_symbol else _key_line(name, x, y))
        words = WORDS[name] if is_symbol else STROKES[name].words
        text = elide(words, pitch_x - 8.4, SIZE)
        out.append(sheet.write(x + 8.0, y + 0.9, text, SIZE))
    return out


def _key_symbol(kind: str, x: float, y: float) -> str:
    move = f"translate({sheet.num(x)} {sheet.num(y)})"
    if kind in {"tank", "header"}:
        shell = sheet.path(
            "M-2.6 -1.3C-2.6 -2.3 2.6 -2.3 2.6 -1.3V1.3C2.6 2.3 -2.6 2.3 -2.6 1.3Z",
            fill=PAPER,
            stroke=INK,
            stroke_width=0.4,
        )
        inner = sheet.rect(-2.0, -1.2, 4.0, 2.4, fill="none", stroke=INK, stroke_width=0.2)
        return sheet.group([shell, *([inner] if kind == "header" else [])], transform=move)
    if kind in INNER:
        return sheet.group(inner_symbol(kind), transform=move)
    scale = 0.36 if kind == "engine" else 0.56
    return sheet.group(symbol(kind), transform=f"{move} scale({scale})")


def _key_line(role: str, x: float, y: float) -> str:
    stroke = STROKES[role]
    return sheet.line(
        x,
        y,
        x + 6.8,
        y,
        stroke=stroke.colour,
        stroke_width=stroke.weight,
        stroke_dasharray=stroke.dash,
    )
