"""Charts as SVG text from plain arrays: curves over time, drops as a stair, a map over attitude."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite

import numpy as np
from numpy.typing import ArrayLike

from plumbing.drawing import sheet
from plumbing.drawing.palette import INK, PAPER, SOFT
from plumbing.drawing.plotting import (
    COLOURS,
    DASHES,
    SIZE,
    Scale,
    legend,
    shown,
    spread,
    x_axis,
    y_axis,
)
from plumbing.drawing.text import clean, elide, width
from plumbing.physics.arrays import Array

ALARM = "#b00020"
WIDE, HIGH = 180.0, 90.0
_LEFT, _TOP, _FOOT, _RIGHT = 16.0, 12.0, 11.0, 6.0


Values = Sequence[float] | Array


@dataclass(frozen=True, slots=True, eq=False)
class Series:
    """A curve.

    Attributes
    ----------
    name : str
        What it is.
    x, y : sequence of float
        Points, in the units of the axes; values that are not finite leave a gap.
    low, high : sequence of float, optional
        Band around it.
    """

    name: str
    x: Values
    y: Values
    low: Values = ()
    high: Values = ()


@dataclass(frozen=True, slots=True)
class Limit:
    """A value that is not to be passed, drawn as a line across.

    Attributes
    ----------
    name : str
        What it is.
    value : float
        In the unit of the upward axis.
    """

    name: str
    value: float


def chart(
    series: Sequence[Series],
    x_label: str,
    y_label: str,
    *,
    title: str = "",
    limits: Sequence[Limit] = (),
    bands: Sequence[tuple[float, float, str]] = (),
    zero: bool = False,
) -> str:
    """Draw curves.

    Parameters
    ----------
    series : sequence of Series
        The curves.
    x_label, y_label : str
        What the axes are, with the unit, such as `time [min]`.
    title : str
        Title above.
    limits : sequence of Limit
        Lines across, named at their right end.
    bands : sequence of (from, to, name)
        Stretches of the x axis to be shaded and named, such as phases of a flight.
    zero : bool
        Whether 0 is to be on the upward axis.
    """
    rows = 1 + sum(len(one.name) + 8 for one in series) // 95
    top = _TOP + 4.0 * rows
    xs = [float(v) for one in series for v in one.x]
    ys = [float(v) for one in series for v in (*one.y, *one.low, *one.high)]
    ys += [limit.value for limit in limits]
    known = [v for v in xs if isfinite(v)] or [0.0, 1.0]
    low, high = min(known), max(known)
    across = Scale(low, high if high > low else low + 1.0, _LEFT, WIDE - _RIGHT)
    up = Scale(*spread(ys, 5, zero), HIGH - _FOOT, top)
    body = [
        sheet.rect(0, 0, WIDE, HIGH, fill=PAPER),
        sheet.write(_LEFT - 10.0, 4.6, clean(title), 3.2, bold=True),
        *legend([one.name for one in series], _LEFT + 30.0, 8.6, WIDE - _LEFT - 36.0),
        *_bands(bands, across, up),
        *x_axis(across, up.start, up.end, x_label),
        *y_axis(up, across.start, across.end, y_label),
    ]
    for place, one in enumerate(series):
        body += _curve(one, across, up, place)
    body += [_limit(limit, across, up) for limit in limits if isfinite(limit.value)]
    return sheet.page(WIDE, HIGH, [sheet.group(body, fill=INK)], clean(title) or clean(y_label))


def _bands(bands: Sequence[tuple[float, float, str]], across: Scale, up: Scale) -> list[str]:
    out = []
    for place, (start, stop, name) in enumerate(bands):
        left, right = across(max(start, across.low)), across(min(stop, across.high))
        if right <= left:
            continue
        tone = "#f0ece4" if place % 2 == 0 else "#f8f6f1"
        out.append(sheet.rect(left, up.end, right - left, up.start - up.end, fill=tone))
        text = elide(clean(name), right - left - 1.0, 2.2)
        if len(text) > 2:
            out.append(
                sheet.write((left + right) / 2, up.end + 2.6, text, 2.2, anchor="middle", fill=SOFT)
            )
    return out


def _curve(one: Series, across: Scale, up: Scale, place: int) -> list[str]:
    colour = COLOURS[place % len(COLOURS)]
    out = []
    if len(one.low) and len(one.high):
        rim = [(across(x), up(y)) for x, y in zip(one.x, one.high, strict=True)]
        rim += [(across(x), up(y)) for x, y in zip(one.x, one.low, strict=True)][::-1]
        if all(isfinite(x) and isfinite(y) for x, y in rim):
            out.append(sheet.polygon(rim, fill=colour, fill_opacity=0.15))
    d, pen = [], "M"
    for x, y in zip(one.x, one.y, strict=True):
        if not (isfinite(x) and isfinite(y)):
            pen = "M"
            continue
        d.append(f"{pen}{sheet.num(across(x))} {sheet.num(up(y))}")
        pen = "L"
    out.append(
        sheet.path(
            "".join(d) or "M0 0",
            stroke=colour,
            stroke_width=0.6,
            stroke_dasharray=DASHES[place % len(DASHES)],
            stroke_linejoin="round",
        )
    )
    return [sheet.group(out, title=clean(one.name), class_="series", data_name=clean(one.name))]


def _limit(limit: Limit, across: Scale, up: Scale) -> str:
    y = up(limit.value)
    text = clean(limit.name)
    rule = sheet.line(
        across.start,
        y,
        across.end,
        y,
        stroke=ALARM,
        stroke_width=0.45,
        stroke_dasharray="4 1.5",
    )
    shift = -1.0 if y - up.end > 5.0 else 3.2
    name = sheet.write(across.end - 1.0, y + shift, text, SIZE, anchor="end", fill=ALARM)
    return sheet.group([rule, name], class_="limit")


def stair(
    labels: Sequence[str],
    drops: ArrayLike,
    *,
    unit: str = "kPa",
    title: str = "",
    limit: Limit | None = None,
) -> str:
    """Draw the drops along a path as a stair: each step is one part, the foot their sum.

    Parameters
    ----------
    labels : sequence of str
        Parts in the order of flow.
    drops : array_like
        Drop of each, in `unit`, shape (N,); a gain, such as head, is negative.
    unit : str
        Unit of the drops.
    title : str
        Title above.
    limit : Limit, optional
        Largest sum allowed.
    """
    steps = [float(v) for v in np.asarray(drops, float)]
    sums = [0.0, *np.cumsum(steps).tolist()]
    room = min(60.0, max([20.0, *(width(clean(label), SIZE) for label in labels)]))
    pitch = 5.4
    high = _TOP + pitch * (len(steps) + 1) + _FOOT + 2.0
    bounds = spread([*sums, *([limit.value] if limit else [])], 6, zero=True)
    across = Scale(*bounds, room + 8.0, WIDE - 22.0)
    foot = high - _FOOT
    body = [
        sheet.rect(0, 0, WIDE, high, fill=PAPER),
        sheet.write(4.0, 4.6, clean(title), 3.2, bold=True),
        *x_axis(across, foot, _TOP - 3.0, f"sum of the drops [{unit}]"),
    ]
    for place, label in enumerate(labels):
        y = _TOP + pitch * place
        body += _step(label, sums[place], sums[place + 1], across, y, room)
    body += _sum(sums[-1], unit, across, _TOP + pitch * len(steps), room)
    if limit is not None and isfinite(limit.value):
        x = across(limit.value)
        body.append(_upright(x, _TOP - 3.0, foot))
        words = clean(limit.name)
        body.append(sheet.write(x, _TOP - 4.0, words, SIZE, anchor="middle", fill=ALARM))
    return sheet.page(WIDE, high, [sheet.group(body, fill=INK)], clean(title) or "drops")


def _step(
    label: str, before: float, after: float, across: Scale, y: float, room: float
) -> list[str]:
    start, end = across(before), across(after)
    colour = COLOURS[0] if after >= before else COLOURS[2]
    text = elide(clean(label), room, SIZE)
    words = f"{after - before:+.3g}"
    return [
        sheet.write(room + 5.0, y + 2.9, text, SIZE, anchor="end"),
        sheet.rect(min(start, end), y + 0.6, max(abs(end - start), 0.25), 4.0, fill=colour),
        sheet.line(end, y + 0.6, end, y + 6.0, stroke=SOFT, stroke_width=0.2),
        sheet.write(max(start, end) + 1.2, y + 2.9, words, SIZE, fill=SOFT),
    ]


def _sum(total: float, unit: str, across: Scale, y: float, room: float) -> list[str]:
    left, right = sorted((across(0.0), across(total)))
    words = f"{total:.3g} {clean(unit)}"
    return [
        sheet.write(room + 5.0, y + 3.1, "sum", SIZE, bold=True, anchor="end"),
        sheet.rect(left, y + 0.6, max(right - left, 0.25), 4.2, fill=INK),
        sheet.write(right + 1.2, y + 3.1, words, SIZE, bold=True),
    ]


def _upright(x: float, top: float, foot: float) -> str:
    return sheet.line(x, top, x, foot, stroke=ALARM, stroke_width=0.5, stroke_dasharray="4 1.5")


def tilt_map(
    pitch: ArrayLike,
    roll: ArrayLike,
    values: ArrayLike,
    *,
    label: str = "unusable fuel [ml]",
    title: str = "",
    steps: int = 6,
) -> str:
    """Draw a value over pitch and roll: shaded squares with the value written where it changes.

    Parameters
    ----------
    pitch, roll : array_like
        Angles [deg], shapes (P,) and (R,), rising.
    values : array_like
        Shape (P, R).
    label : str
        What is shown, with its unit.
    title : str
        Title above.
    steps : int
        Tones.
    """
    ups, rolls = np.asarray(pitch, float), np.asarray(roll, float)
    grid = np.asarray(values, float)
    low, high = spread([float(v) for v in grid.ravel()], steps)
    left, top, side = 20.0, 14.0, 120.0
    tall = 84.0
    wide_cell, high_cell = side / len(rolls), tall / len(ups)
    body = [
        sheet.rect(0, 0, WIDE, top + tall + 14.0, fill=PAPER),
        sheet.write(4.0, 4.6, clean(title), 3.2, bold=True),
        sheet.write(4.0, 9.4, "pitch [deg], nose up positive", SIZE, fill=SOFT),
    ]
    for row, angle in enumerate(ups):
        y = top + tall - (row + 1) * high_cell
        cells = [
            _cell(left + k * wide_cell, y, wide_cell, high_cell, float(v), (low, high, steps))
            for k, v in enumerate(grid[row])
        ]
        body += cells
        if _spaced(row, high_cell, 4.0):
            body.append(
                sheet.write(left - 1.5, y + high_cell / 2 + 0.9, shown(angle), SIZE, anchor="end")
            )
    for k, angle in enumerate(rolls):
        if _spaced(k, wide_cell, 9.0):
            x = left + (k + 0.5) * wide_cell
            body.append(sheet.write(x, top + tall + 4.0, shown(angle), SIZE, anchor="middle"))
    body.append(
        sheet.write(
            left + side / 2,
            top + tall + 8.6,
            "roll [deg], starboard down positive",
            SIZE,
            anchor="middle",
            fill=SOFT,
        )
    )
    body += _tones(left + side + 8.0, top, low, high, steps, label)
    return sheet.page(WIDE, top + tall + 14.0, [sheet.group(body, fill=INK)], clean(title) or label)


def _spaced(place: int, size: float, room: float) -> bool:
    return place % max(1, int(-(-room // size))) == 0


def _tone(share: float) -> str:
    """From paper to deep blue; grey prints keep the order because it only gets darker."""
    light, dark = (236, 243, 247), (8, 62, 104)
    return "#" + "".join(
        f"{round(a + (b - a) * share):02x}" for a, b in zip(light, dark, strict=True)
    )


def _share(value: float, low: float, high: float, steps: int) -> float:
    place = min(int((value - low) / (high - low) * steps), steps - 1)
    return place / max(steps - 1, 1)


def _cell(
    x: float, y: float, w: float, h: float, value: float, bounds: tuple[float, float, int]
) -> str:
    if not isfinite(value):
        return sheet.rect(x, y, w, h, fill="#ddd", stroke=PAPER, stroke_width=0.2)
    share = _share(value, *bounds)
    out = [sheet.rect(x, y, w, h, fill=_tone(share), stroke=PAPER, stroke_width=0.15)]
    text = f"{value:.3g}"
    if w >= width(text, 2.3) + 1.0 and h >= 3.2:
        ink = PAPER if share > 0.45 else INK
        out.append(sheet.write(x + w / 2, y + h / 2 + 0.8, text, 2.3, anchor="middle", fill=ink))
    return "".join(out)


def _tones(x: float, y: float, low: float, high: float, steps: int, label: str) -> list[str]:
    out = [sheet.write(x - 2.0, y - 4.6, clean(label), SIZE, fill=SOFT)]
    for place in range(steps):
        top = y + (steps - 1 - place) * 7.0
        out.append(sheet.rect(x, top, 6.0, 7.0, fill=_tone(place / max(steps - 1, 1))))
    for place in range(steps + 1):
        value = low + (high - low) * place / steps
        out.append(sheet.write(x + 7.5, y + (steps - place) * 7.0 + 0.9, shown(value), SIZE))
    return out
