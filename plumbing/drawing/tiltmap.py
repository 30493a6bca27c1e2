"""A value over pitch and roll as a map of shaded squares."""

from math import isfinite

import numpy as np
from numpy.typing import ArrayLike

from plumbing.drawing import sheet
from plumbing.drawing.charts import WIDE
from plumbing.drawing.palette import INK, PAPER, SOFT
from plumbing.drawing.plotting import SIZE, shown, spread
from plumbing.drawing.text import clean, width


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


def tone(share: float) -> str:
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
    out = [sheet.rect(x, y, w, h, fill=tone(share), stroke=PAPER, stroke_width=0.15)]
    text = f"{value:.3g}"
    if w >= width(text, 2.3) + 1.0 and h >= 3.2:
        ink = PAPER if share > 0.45 else INK
        out.append(sheet.write(x + w / 2, y + h / 2 + 0.8, text, 2.3, anchor="middle", fill=ink))
    return "".join(out)


def _tones(x: float, y: float, low: float, high: float, steps: int, label: str) -> list[str]:
    out = [sheet.write(x - 2.0, y - 4.6, clean(label), SIZE, fill=SOFT)]
    for place in range(steps):
        top = y + (steps - 1 - place) * 7.0
        out.append(sheet.rect(x, top, 6.0, 7.0, fill=tone(place / max(steps - 1, 1))))
    for place in range(steps + 1):
        value = low + (high - low) * place / steps
        out.append(sheet.write(x + 7.5, y + (steps - place) * 7.0 + 0.9, shown(value), SIZE))
    return out
