"""Drill templates: a former at full size, on a page of its own or over sheets of A4.

SVG and DXF have the former's own size. A PDF is for the printer on the desk: sheets of A4 to be
glued at their crosses, unless a page of the former's own size is asked for. Every sheet has bars
of 100 mm across and up, because a printer may shrink one direction only.
"""

from plumbing.drawing import sheet
from plumbing.drawing.palette import INK, RIM, SOFT
from plumbing.drawing.plate import Hole, Plate
from plumbing.drawing.text import elide

BAR = 100.0  # length of the bars to measure [mm]
MARGIN = 14.0  # from the edge of the page to the former [mm]
STRIP = 40.0  # under the former: bar and words [mm]
SIDE = 16.0  # left of the former: upright bar [mm]
ROW = 4.4  # of the list of holes [mm]
SIZE, SMALL = 3.2, 2.6
_CROSS = 3.0  # how far the centre lines stand out of a hole [mm]
_THIN = 0.18


def template(plate: Plate) -> str:
    """Draw a template on a page of its own.

    Parameters
    ----------
    plate : Plate
        The former.

    Returns
    -------
    str
        SVG text, one user unit to the millimetre, true to size.
    """
    wide = max(plate.size[0], BAR + 60.0) + 2.0 * MARGIN + SIDE
    tall = max(plate.size[1], BAR) + 2.0 * MARGIN + STRIP + ROW * len(plate.holes)
    left, top = MARGIN + SIDE, MARGIN
    bottom = top + max(plate.size[1], BAR)
    body = [
        sheet.rect(0.0, 0.0, wide, tall, fill="#ffffff"),
        sheet.group(
            draw_plate(plate),
            transform=f"translate({sheet.num(left - plate.low[0])} "
            f"{sheet.num(top + plate.high[1])})",
            class_="plate",
        ),
        *draw_bars(left, bottom + MARGIN, MARGIN, top),
        *draw_words(plate, left, bottom + MARGIN + 12.0, wide - left - MARGIN),
        *draw_list(plate, left, bottom + MARGIN + 30.0, wide - left - MARGIN),
    ]
    return sheet.page(wide, tall, body, f"{plate.name}: drill template, full size")


def draw_plate(plate: Plate) -> list[str]:
    """The former with its holes, about its own origin, y downwards [mm]."""
    out = _axes(plate)
    if plate.outline:
        corners = [(x, -y) for x, y in plate.outline]
        out.append(
            sheet.polygon(corners, fill="none", stroke=INK, stroke_width=0.35, class_="outline")
        )
    for (x1, y1), (x2, y2) in plate.keep_clear:
        x, y, w, h = min(x1, x2), -max(y1, y2), abs(x2 - x1), abs(y2 - y1)
        style: dict[str, sheet.Value] = {
            "fill": "none",
            "stroke": RIM,
            "stroke_width": 0.25,
            "stroke_dasharray": "2 1",
        }
        out.append(sheet.rect(x, y, w, h, class_="keep-clear", **style))
        d = f"M{sheet.num(x)} {sheet.num(y)}l{sheet.num(w)} {sheet.num(h)}"
        out.append(sheet.path(d, stroke=RIM, stroke_width=0.18))
    for hole in plate.holes:
        out += _hole(hole)
    return out


def _axes(plate: Plate) -> list[str]:
    """Chain lines through the datum, and its cross with what it stands for."""
    x, y = plate.datum[0], -plate.datum[1]
    style: dict[str, sheet.Value] = {
        "stroke": RIM,
        "stroke_width": _THIN,
        "stroke_dasharray": "6 1.2 1 1.2",
    }
    words = f"datum, no hole: {plate.axis} {plate.datum[0]:g}, z {plate.datum[1]:g}"
    return [
        sheet.line(plate.low[0] - 6.0, y, plate.high[0] + 6.0, y, class_="datum-across", **style),
        sheet.line(x, -plate.high[1] - 6.0, x, -plate.low[1] + 6.0, class_="datum-up", **style),
        sheet.diamond(x, y, 3.0, fill="none", stroke=INK, stroke_width=0.25, class_="datum"),
        sheet.line(x - 5.0, y, x + 5.0, y, stroke=INK, stroke_width=0.3),
        sheet.line(x, y - 5.0, x, y + 5.0, stroke=INK, stroke_width=0.3),
        sheet.write(x + 3.6, y + 5.4, words, SMALL, fill=SOFT),
    ]


def _hole(hole: Hole) -> list[str]:
    (x, up), radius = hole.at, 0.5 * hole.diameter
    y, reach = -up, radius + _CROSS
    where = x + 0.72 * radius + 1.2, y - 0.72 * radius - 1.2
    words = f"{hole.number}  Ø{hole.diameter:g}"
    return [
        sheet.group(
            [
                sheet.circle(x, y, radius, fill="none", stroke=INK, stroke_width=0.3),
                sheet.line(x - reach, y, x + reach, y, stroke=INK, stroke_width=_THIN),
                sheet.line(x, y - reach, x, y + reach, stroke=INK, stroke_width=_THIN),
                sheet.circle(x, y, 0.35, fill=INK),
                sheet.write(*where, words, SIZE, bold=True),
            ],
            title=hole.name,
            class_="hole",
            fill=INK,
        )
    ]


def draw_bars(left: float, y: float, x: float, top: float) -> list[str]:
    """Bars of 100 mm across and up, with the request to measure them."""
    tick, half = 2.0, BAR / 2.0
    style: dict[str, sheet.Value] = {"stroke": INK, "stroke_width": 0.3}
    return [
        sheet.group(
            [
                sheet.line(left, y, left + BAR, y, class_="bar-across", **style),
                sheet.line(left, y - tick, left, y + tick, **style),
                sheet.line(left + half, y - 1.0, left + half, y + 1.0, **style),
                sheet.line(left + BAR, y - tick, left + BAR, y + tick, **style),
                sheet.line(x, top, x, top + BAR, class_="bar-up", **style),
                sheet.line(x - tick, top, x + tick, top, **style),
                sheet.line(x - 1.0, top + half, x + 1.0, top + half, **style),
                sheet.line(x - tick, top + BAR, x + tick, top + BAR, **style),
                sheet.write(left + 4.0, y + 4.6, "100 mm: measure this bar before drilling", SIZE),
                sheet.group(
                    [sheet.write(0.0, 0.0, "100 mm: measure this bar too", SIZE)],
                    transform=f"translate({sheet.num(x + 4.6)} {sheet.num(top + BAR - 4.0)}) "
                    "rotate(-90)",
                ),
            ],
            class_="bars",
            fill=INK,
        )
    ]


def draw_words(plate: Plate, x: float, y: float, room: float) -> list[str]:
    """Name, material, view and origin, in rows from `y` down [mm]."""
    outline = "" if plate.outline else "; its outline is not in the layout"
    rows = [
        (f"{plate.name}, drill template 1:1", SIZE + 0.6, True),
        (f"{plate.title}; {plate.material}{outline}", SMALL, False),
        (plate.seen, SMALL, False),
        (f"origin: {plate.origin}", SMALL, False),
    ]
    return [
        sheet.write(x, y + ROW * k, elide(words, room, size), size, bold=bold, fill=INK)
        for k, (words, size, bold) in enumerate(rows)
    ]


def draw_list(plate: Plate, x: float, y: float, room: float) -> list[str]:
    """What to drill, a row a hole, from `y` down [mm]."""
    out = []
    for number, hole in enumerate(plate.holes):
        grommet = f", grommet {hole.grommet:g} mm" if hole.grommet else ""
        lines = ", ".join(hole.lines) or "no line yet"
        words = (
            f"{hole.number}  {hole.name}: Ø{hole.diameter:g} at {plate.axis} {hole.at[0]:g}, "
            f"z {hole.at[1]:g}{grommet}; {lines}"
        )
        out.append(sheet.write(x, y + ROW * number, elide(words, room, SMALL), SMALL, fill=INK))
    return out
