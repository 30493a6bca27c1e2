"""Drops along a path as a stair."""

from collections.abc import Sequence
from math import isfinite

import numpy as np
from numpy.typing import ArrayLike

from plumbing.drawing import sheet
from plumbing.drawing.charts import ALARM, WIDE, Limit
from plumbing.drawing.palette import INK, PAPER, SOFT
from plumbing.drawing.plotting import COLOURS, SIZE, Scale, spread, x_axis
from plumbing.drawing.text import clean, elide, width

_TOP, _FOOT = 12.0, 11.0


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
    said: list[str] = []
    for place, label in enumerate(labels):
        y = _TOP + pitch * place
        body += _step(label, sums[place], sums[place + 1], across, y, room)
        said += _drop(sums[place], sums[place + 1], across, y)
    body += _sum(sums[-1], unit, across, _TOP + pitch * len(steps), room)
    if limit is not None and isfinite(limit.value):
        x = across(limit.value)
        body.append(_upright(x, _TOP - 3.0, foot))
        words = clean(limit.name)
        body.append(sheet.write(x, _TOP - 4.0, words, SIZE, anchor="middle", fill=ALARM))
    return sheet.page(WIDE, high, [sheet.group(body + said, fill=INK)], clean(title) or "drops")


def _step(
    label: str, before: float, after: float, across: Scale, y: float, room: float
) -> list[str]:
    start, end = across(before), across(after)
    colour = COLOURS[0] if after >= before else COLOURS[2]
    text = elide(clean(label), room, SIZE)
    return [
        sheet.write(room + 5.0, y + 2.9, text, SIZE, anchor="end"),
        sheet.rect(min(start, end), y + 0.6, max(abs(end - start), 0.25), 4.0, fill=colour),
        sheet.line(end, y + 0.6, end, y + 6.0, stroke=SOFT, stroke_width=0.2),
    ]


def _drop(before: float, after: float, across: Scale, y: float) -> list[str]:
    """The drop in figures, on paper of its own: grid and limit may pass there."""
    x, words = max(across(before), across(after)) + 1.2, f"{after - before:+.3g}"
    return [
        sheet.rect(x - 0.4, y + 0.6, width(words, SIZE) + 0.8, 3.2, fill=PAPER),
        sheet.write(x, y + 2.9, words, SIZE, fill=SOFT),
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
