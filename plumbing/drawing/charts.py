"""Curves over time or flow, with limits, bands and phases."""

from collections.abc import Sequence
from math import isfinite

from plumbing.drawing import sheet
from plumbing.drawing.palette import INK, PAPER, SOFT
from plumbing.drawing.plotting import (
    COLOURS,
    SIZE,
    Scale,
    dash_of,
    legend,
    spread,
    x_axis,
    y_axis,
)
from plumbing.drawing.text import clean, elide
from plumbing.frozen import frozen
from plumbing.physics.arrays import Array

ALARM = "#b00020"
WIDE, HIGH = 180.0, 90.0
_LEFT, _TOP, _FOOT, _RIGHT = 16.0, 12.0, 11.0, 6.0


Values = Sequence[float] | Array


@frozen(eq=False)
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


@frozen
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


def stacked(charts: Sequence[str], title: str) -> str:
    """Charts one below the other on one sheet; inside it sizes are in its own units."""
    size = f'width="{sheet.num(WIDE)}mm" height="{sheet.num(HIGH)}mm"'
    placed = [
        one.strip().replace(
            size,
            f'y="{sheet.num(HIGH * number)}" width="{sheet.num(WIDE)}" height="{sheet.num(HIGH)}"',
            1,
        )
        for number, one in enumerate(charts)
    ]
    return sheet.page(WIDE, HIGH * len(charts), placed, title)


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
            stroke_dasharray=dash_of(place),
            stroke_linejoin="round",
        )
    )
    name = clean(one.name)
    top = sheet.num(up.end)
    return [sheet.group(out, title=name, class_="series", data_name=name, data_top=top)]


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
