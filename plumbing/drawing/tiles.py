"""A template over sheets of A4, to be glued together at their crosses."""

from collections.abc import Iterator
from math import ceil

from plumbing.drawing import sheet
from plumbing.drawing.palette import INK, SOFT
from plumbing.drawing.plate import Plate
from plumbing.drawing.template import (
    ROW,
    SIZE,
    SMALL,
    draw_bars,
    draw_list,
    draw_plate,
    draw_words,
)
from plumbing.errors import UsageError

WIDE, TALL = 210.0, 297.0  # A4 upright [mm]
LEFT, TOP, RIGHT = 22.0, 16.0, 10.0  # round the part of the former on a sheet [mm]
STRIP = 36.0  # under it: bar and words [mm]
OVERLAP = (10.0, 80.0)  # shown on both neighbours, least and most [mm]
EDGE = 8.0  # round the former [mm]
MOST = 200  # sheets


def sheets(plate: Plate) -> tuple[str, ...]:
    """Draw a template over sheets of A4.

    Parameters
    ----------
    plate : Plate
        The former.

    Returns
    -------
    tuple of str
        SVG texts, row by row from the top left; the list of holes stands on the last sheet of
        its own where there is more than one.

    Raises
    ------
    UsageError
        It would take more sheets than anyone glues.
    """
    wide, tall = WIDE - LEFT - RIGHT, TALL - TOP - STRIP
    lap = overlap(plate)
    across, down = _count(plate.size[0], wide, lap), _count(plate.size[1], tall, lap)
    if across * down > MOST:
        raise UsageError(
            f"former `{plate.name}` takes {across * down} sheets of A4, more than {MOST}; ask for "
            "a page of its own size"
        )
    if across * down == 1:
        room = tall - plate.size[1] - EDGE - 6.0 - ROW * len(plate.holes)
        if room > 0.0:
            return (_only(plate),)
    total = across * down + 1
    tiles = [
        _tile(plate, row, column, (across, down), total)
        for row in range(down)
        for column in range(across)
    ]
    return (*tiles, _list(plate, total))


def overlap(plate: Plate) -> float:
    """What neighbouring sheets both show, so that every usual hole is whole on one [mm]."""
    widest = max((hole.diameter for hole in plate.holes), default=0.0)
    return min(max(OVERLAP[0], widest + 8.0), OVERLAP[1])


def _count(size: float, room: float, lap: float) -> int:
    """Sheets in one direction."""
    return max(1, ceil((size + 2.0 * EDGE - lap) / (room - lap) - 1e-9))


def _only(plate: Plate) -> str:
    """The one sheet of a small former, with its list of holes."""
    below = TOP + EDGE + plate.size[1] + EDGE + 4.0
    body = [*_part(plate, 0, 0), *draw_list(plate, LEFT, below, WIDE - LEFT - RIGHT)]
    return _page(plate, body, "one sheet")


def _tile(plate: Plate, row: int, column: int, count: tuple[int, int], total: int) -> str:
    number = row * count[0] + column + 1
    body = [*_part(plate, row, column), *_crosses(row, column, count, overlap(plate))]
    place = f"row {row + 1} of {count[1]}, column {column + 1} of {count[0]}"
    return _page(plate, body, f"sheet {number} of {total}: {place}; glue at the crosses")


def _part(plate: Plate, row: int, column: int) -> list[str]:
    """The part of the former on one sheet, cut off at the sheet's frame."""
    wide, tall = WIDE - LEFT - RIGHT, TALL - TOP - STRIP
    lap = overlap(plate)
    x = LEFT + EDGE - plate.low[0] - column * (wide - lap)
    y = TOP + EDGE + plate.high[1] - row * (tall - lap)
    frame = sheet.tag("clipPath", sheet.rect(LEFT, TOP, wide, tall), id="frame")
    moved = sheet.group(
        draw_plate(plate), transform=f"translate({sheet.num(x)} {sheet.num(y)})", class_="plate"
    )
    return [frame, sheet.group([moved], clip_path="url(#frame)")]


def _crosses(row: int, column: int, count: tuple[int, int], lap: float) -> Iterator[str]:
    """Registration crosses in the overlaps: the same points of the former on both sheets."""
    wide, tall, half = WIDE - LEFT - RIGHT, TALL - TOP - STRIP, 0.5 * lap
    xs = [LEFT + half] if column else []
    xs += [LEFT + wide - half] if column + 1 < count[0] else []
    ys = [TOP + half] if row else []
    ys += [TOP + tall - half] if row + 1 < count[1] else []
    spots = [(x, TOP + tall * share) for x in xs for share in (0.25, 0.75)]
    spots += [(LEFT + wide * share, y) for y in ys for share in (0.25, 0.75)]
    style: dict[str, sheet.Value] = {"stroke": INK, "stroke_width": 0.18}
    for x, y in spots:
        yield sheet.group(
            [
                sheet.line(x - 4.0, y, x + 4.0, y, **style),
                sheet.line(x, y - 4.0, x, y + 4.0, **style),
                sheet.diamond(x, y, 2.0, fill="none", **style),
            ],
            class_="registration",
        )


def _list(plate: Plate, total: int) -> str:
    """The last sheet: what to drill."""
    room = WIDE - LEFT - RIGHT
    words = f"Holes of {plate.name}, centres from the origin [mm]"
    body = [
        sheet.write(LEFT + 8.0, TOP + 6.0, words, SIZE, bold=True, fill=INK),
        *draw_list(plate, LEFT + 8.0, TOP + 6.0 + 2.0 * ROW, room - 8.0),
    ]
    return _page(plate, body, f"sheet {total} of {total}: list of holes")


def _page(plate: Plate, body: list[str], where: str) -> str:
    bar = TALL - STRIP + 8.0
    strip = [
        *draw_bars(LEFT, bar, 10.0, TOP),
        *draw_words(plate, LEFT, bar + 10.6, WIDE - LEFT - RIGHT),
        sheet.write(WIDE - RIGHT, bar + 4.6, where, SMALL, anchor="end", fill=SOFT),
        sheet.rect(
            LEFT,
            TOP,
            WIDE - LEFT - RIGHT,
            TALL - TOP - STRIP,
            fill="none",
            stroke=SOFT,
            stroke_width=0.1,
            stroke_dasharray="1 1",
        ),
    ]
    paper = sheet.rect(0.0, 0.0, WIDE, TALL, fill="#ffffff")
    return sheet.page(WIDE, TALL, [paper, *body, *strip], f"{plate.name}: drill template")
