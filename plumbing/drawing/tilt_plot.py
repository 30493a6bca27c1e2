"""Unusable fuel over pitch and roll: bands between labelled contours, and where it is flown."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import Any

import numpy as np

from plumbing import units
from plumbing.drawing import sheet
from plumbing.drawing.palette import INK, PAPER, SOFT
from plumbing.drawing.plotting import SIZE, Scale, round_step, shown, spread
from plumbing.drawing.text import clean, elide, width
from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.physics.arrays import Array
from plumbing.simulation.tilt_result import Leaning, TiltMap

WIDE, HIGH = 190.0, 142.0
_LEFT, _TOP, _SIDE, _TALL = 17.0, 17.0, 140.0, 84.0
_STEPS = 9
_WORST = 5
_ML = 1e6
_SMALL = 2.2  # font size of contours [mm]
_LABELLED = 18.0  # contours longer than this carry their value [mm]
_APART = 9.0  # and no two values stand nearer to each other [mm]


@frozen(eq=False)
class _Field:
    """A map in millilitres with its place on the sheet."""

    across: Scale
    up: Scale
    roll: Array
    pitch: Array
    values: Array
    levels: tuple[float, ...]


def tilt_plot(layout: Layout, found: TiltMap, tank: str | None = None) -> str:
    """Draw the map of one tank, or of all tanks together.

    Parameters
    ----------
    layout : Layout
        For the title.
    found : TiltMap
        The maps.
    tank : str, optional
        One of its tanks.

    Returns
    -------
    str
        SVG text.
    """
    what = f"Unusable fuel, {tank}" if tank else "Unusable fuel, all tanks together"
    values = _ML * found.over(tank)
    low, high = spread(values.ravel().tolist(), _STEPS, zero=True)
    count = max(2, round((high - low) / _step(low, high)) + 1)
    field = _Field(
        across=Scale(-180.0, 180.0, _LEFT, _LEFT + _SIDE),
        up=Scale(-90.0, 90.0, _TOP + _TALL, _TOP),
        roll=np.degrees(found.roll),
        pitch=np.degrees(found.pitch),
        values=values,
        levels=tuple(np.linspace(low, high, count).tolist()),
    )
    worst = found.worst(tank, _WORST)
    body = [
        sheet.rect(0, 0, WIDE, HIGH, fill=PAPER),
        sheet.write(4.0, 5.6, elide(clean(what), WIDE - 8.0, 3.4), 3.4, bold=True),
        sheet.write(4.0, 9.8, elide(clean(layout.title), WIDE - 8.0, SIZE), SIZE, fill=SOFT),
        sheet.write(4.0, 14.4, "pitch [deg], nose up", SIZE, fill=SOFT),
        *_bands(field),
        *_axes(field),
        *_contours(found, field),
        *_marks(found, field, worst),
        *_tones(field),
        *_list(found, worst, tank),
    ]
    return sheet.page(WIDE, HIGH, [sheet.group(body, fill=INK)], clean(what))


def _step(low: float, high: float) -> float:
    return round_step((high - low) / _STEPS)


def tone(place: int, last: int) -> str:
    """From paper to deep blue; grey prints keep the order because it only gets darker."""
    share = 0.92 * place / max(last, 1)
    light, dark = (236, 243, 247), (8, 62, 104)
    return "#" + "".join(
        f"{round(a + (b - a) * share):02x}" for a, b in zip(light, dark, strict=True)
    )


def _bands(field: _Field) -> list[str]:
    """The lowest band everywhere, and every higher one over it."""
    from contourpy import FillType, contour_generator  # only a map has contours

    maker = contour_generator(field.roll, field.pitch, field.values, fill_type=FillType.OuterOffset)
    out = [sheet.rect(_LEFT, _TOP, _SIDE, _TALL, fill=tone(0, len(field.levels) - 2))]
    for place, level in enumerate(field.levels[1:-1], 1):
        filled: Any = maker.filled(level, 2.0 * abs(field.levels[-1]) + 1.0)
        points, offsets = filled
        d = "".join(
            _ring(ring[start:end], field) + "Z"
            for ring, marks in zip(points, offsets, strict=True)
            for start, end in itertools.pairwise(marks)
        )
        if d:
            out.append(sheet.path(d, fill=tone(place, len(field.levels) - 2), fill_rule="evenodd"))
    return out


def _ring(points: Array, field: _Field) -> str:
    spots = [(field.across(x), field.up(y)) for x, y in points.tolist()]
    return "M" + "L".join(f"{sheet.num(x)} {sheet.num(y)}" for x, y in spots)


def _contours(found: TiltMap, field: _Field) -> list[str]:
    """Contours, and the values of those long enough, clear of one another."""
    from contourpy import contour_generator

    maker = contour_generator(field.roll, field.pitch, field.values)
    lines: list[str] = []
    labels: list[str] = []
    where = found.envelope
    taken = [_spot(*pair, field) for pair in zip(where.pitch, where.roll, strict=True)]
    for level in field.levels[1:-1]:
        for points in maker.lines(level):
            line = np.array([(field.across(x), field.up(y)) for x, y in np.asarray(points)])
            lines.append(
                sheet.path(_ring(np.asarray(points), field), stroke=INK, stroke_width=0.18)
            )
            spot = _free_spot(line, taken)
            if spot is not None:
                taken.append(spot)
                labels += _label(spot, shown(level))
    return [*lines, *labels]


def _free_spot(line: Array, taken: list[tuple[float, float]]) -> tuple[float, float] | None:
    """Place on a contour, nearest to its middle, that is clear of the values already there."""
    if np.linalg.norm(np.diff(line, axis=0), axis=1).sum() < _LABELLED:
        return None
    middle = len(line) // 2
    for place in sorted(range(len(line)), key=lambda one: abs(one - middle)):
        x, y = float(line[place, 0]), float(line[place, 1])
        inside = _LEFT + 5.0 < x < _LEFT + _SIDE - 5.0 and _TOP + 3.0 < y < _TOP + _TALL - 3.0
        if inside and all(abs(x - a) > _APART or abs(y - b) > 3.4 for a, b in taken):
            return x, y
    return None


def _label(spot: tuple[float, float], text: str) -> Iterator[str]:
    x, y = spot
    room = width(text, _SMALL) + 1.0
    yield sheet.rect(x - room / 2, y - 1.4, room, 2.8, fill=PAPER, rx=0.6)
    yield sheet.write(x, y + 0.8, text, _SMALL, anchor="middle")


def _axes(field: _Field) -> list[str]:
    out = [
        sheet.rect(_LEFT, _TOP, _SIDE, _TALL, fill="none", stroke=INK, stroke_width=0.3),
        sheet.write(
            _LEFT + _SIDE / 2, _TOP + _TALL + 8.4, "roll [deg], starboard down", SIZE,
            anchor="middle", fill=SOFT,
        ),
    ]  # fmt: skip
    foot = _TOP + _TALL
    for angle in range(-180, 181, 45):
        x = field.across(angle)
        out.append(sheet.line(x, foot, x, foot + 1.2, stroke=INK, stroke_width=0.25))
        out.append(sheet.write(x, foot + 4.0, shown(angle), SIZE, anchor="middle"))
    for angle in range(-90, 91, 30):
        y = field.up(angle)
        out.append(sheet.line(_LEFT - 1.2, y, _LEFT, y, stroke=INK, stroke_width=0.25))
        out.append(sheet.write(_LEFT - 1.8, y + 0.95, shown(angle), SIZE, anchor="end"))
    zero: dict[str, sheet.Value] = {"stroke": INK, "stroke_width": 0.15}
    zero["stroke_dasharray"] = "0.8 1.2"
    out.append(sheet.line(field.across(0), _TOP, field.across(0), foot, **zero))
    out.append(sheet.line(_LEFT, field.up(0), _LEFT + _SIDE, field.up(0), **zero))
    return out


def _spot(pitch: float, roll: float, field: _Field) -> tuple[float, float]:
    return field.across(float(np.degrees(roll))), field.up(float(np.degrees(pitch)))


def _marks(found: TiltMap, field: _Field, worst: tuple[Leaning, ...]) -> list[str]:
    """A dot where it is flown, a square where it is parked; the worst are numbered."""
    where = found.envelope
    dots = [
        _mark(*_spot(pitch, roll, field), bool(parked))
        for pitch, roll, parked in zip(where.pitch, where.roll, where.parked, strict=True)
    ]
    leaders: list[str] = []
    out: list[str] = []
    used: list[tuple[float, float]] = []
    for number, one in enumerate(worst, 1):
        at = _spot(one.pitch, one.roll, field)
        left = -1.0 if at[0] > _LEFT + _SIDE - 6.0 else 1.0
        x, y = at[0] + 3.6 * left, min(max(at[1] - 3.0, _TOP + 1.9), _TOP + _TALL - 1.9)
        while any(abs(x - a) < 3.6 and abs(y - b) < 3.6 for a, b in used):
            x += 3.7 * left
        used.append((x, y))
        leaders.append(sheet.line(*at, x, y, stroke=PAPER, stroke_width=0.7))
        leaders.append(sheet.line(*at, x, y, stroke=INK, stroke_width=0.25))
        out.append(sheet.circle(x, y, 1.7, fill=PAPER, stroke=INK, stroke_width=0.25))
        out.append(sheet.write(x, y + 0.85, str(number), 2.3, anchor="middle", bold=True))
    return [*leaders, *dots, *out]


def _mark(x: float, y: float, parked: bool) -> str:
    if parked:
        return sheet.rect(x - 0.9, y - 0.9, 1.8, 1.8, fill=PAPER, stroke=INK, stroke_width=0.4)
    return sheet.circle(x, y, 1.0, fill=INK, stroke=PAPER, stroke_width=0.35)


def _tones(field: _Field) -> list[str]:
    """Key of the bands and marks to the right of the map."""
    x, high = _LEFT + _SIDE + 8.0, min(6.0, 50.0 / (len(field.levels) - 1))
    foot = _TOP + high * (len(field.levels) - 1)
    out = [sheet.write(x - 1.0, _TOP - 2.6, "fuel [ml]", SIZE, fill=SOFT)]
    for place in range(len(field.levels) - 1):
        y = foot - (place + 1) * high
        tint = tone(place, len(field.levels) - 2)
        out.append(sheet.rect(x, y, 6.0, high, fill=tint, stroke=INK, stroke_width=0.18))
    for place, level in enumerate(field.levels):
        out.append(sheet.write(x + 7.4, foot - place * high + 0.9, shown(level), SIZE))
    for row, (words, parked) in enumerate((("flown", False), ("parked", True))):
        y = foot + 9.0 + 4.6 * row
        out.append(_mark(x + 1.2, y, parked))
        out.append(sheet.write(x + 4.0, y + 0.9, words, SIZE))
    return out


def _list(found: TiltMap, worst: tuple[Leaning, ...], tank: str | None) -> list[str]:
    """The worst attitudes in words, below the map."""
    y = _TOP + _TALL + 15.0
    level = units.show(found.level(tank), "volume")
    held = units.show(found.room(tank), "volume")
    lead = f"Level {level} of {held}. Worst of what is flown and parked:"
    out = [sheet.write(4.0, y, lead, SIZE, bold=True)]
    for number, one in enumerate(worst, 1):
        y += 4.4
        pitch, roll = (f"{round(np.degrees(angle)) + 0:d}" for angle in (one.pitch, one.roll))
        words = f"pitch {pitch}, roll {roll} deg"
        amount = f"{units.show(one.volume, 'volume')}, {one.share:.0%}"
        out.append(sheet.write(6.0, y, str(number), SIZE, bold=True))
        out.append(sheet.write(11.0, y, elide(clean(one.name), 84.0, SIZE), SIZE))
        out.append(sheet.write(98.0, y, words, SIZE))
        out.append(sheet.write(_LEFT + _SIDE, y, amount, SIZE, anchor="end"))
    return out
