"""Axes for charts: round ticks, scales, frames. Everything in millimetres on paper."""

from math import ceil, floor, isfinite, log10

from plumbing.drawing import sheet
from plumbing.drawing.palette import INK, RIM, SOFT
from plumbing.drawing.text import clean, width
from plumbing.frozen import frozen

SIZE = 2.6
COLOURS = ("#00609c", "#a8410a", "#00735a", "#7b3f8c", "#8a6d00", "#444444")
DASHES = (None, "3 1.2", "1 1", "4 1 1 1", "6 1.5", "2 2")


def dash_of(place: int) -> str | None:
    """Dashes of a curve: colours come round again, but not with the same dashes."""
    count = len(DASHES)
    return DASHES[(place + place // count) % count]


@frozen
class Scale:
    """From values to a stretch of paper.

    Attributes
    ----------
    low, high : float
        Values at the ends.
    start, end : float
        Their places [mm].
    """

    low: float
    high: float
    start: float
    end: float

    def __call__(self, value: float) -> float:
        """Place of a value [mm]."""
        share = (value - self.low) / (self.high - self.low)
        return self.start + share * (self.end - self.start)

    def ticks(self, about: int = 6) -> list[float]:
        """Round values, about so many."""
        step = round_step((self.high - self.low) / about)
        first, last = ceil(self.low / step - 1e-9), floor(self.high / step + 1e-9)
        return [round(step * n, 12) for n in range(first, last + 1)]


def round_step(rough: float) -> float:
    """Nearest step of 1, 2 or 5 times a power of ten that is not smaller."""
    if not isfinite(rough) or rough <= 0:
        return 1.0
    power = 10.0 ** floor(log10(rough))
    return float(
        next(factor * power for factor in (1, 2, 5, 10) if factor * power >= rough * 0.999)
    )


def spread(values: list[float], about: int = 6, zero: bool = False) -> tuple[float, float]:
    """Round bounds around the finite values; with `zero` among them."""
    known = [value for value in values if isfinite(value)] + ([0.0] if zero else [])
    low, high = (min(known), max(known)) if known else (0.0, 1.0)
    if high - low < 1e-12 * max(abs(low), abs(high), 1e-300):
        half = abs(low) * 0.1 or 0.5
        low, high = low - half, high + half
    step = round_step((high - low) / about)
    return floor(low / step + 1e-9) * step, ceil(high / step - 1e-9) * step


def shown(value: float) -> str:
    """A tick's value in as few digits as tell it."""
    text = f"{value:.6g}"
    return "0" if text == "-0" else text


def x_axis(scale: Scale, y: float, top: float, label: str) -> list[str]:
    """Axis along the bottom with ticks, faint grid lines and its label."""
    out = [sheet.line(scale.start, y, scale.end, y, stroke=INK, stroke_width=0.3)]
    for value in scale.ticks():
        x = scale(value)
        out.append(sheet.line(x, top, x, y, stroke=RIM, stroke_width=0.12))
        out.append(sheet.line(x, y, x, y + 1.2, stroke=INK, stroke_width=0.25))
        out.append(sheet.write(x, y + 4.0, shown(value), SIZE, anchor="middle"))
    middle = (scale.start + scale.end) / 2
    out.append(sheet.write(middle, y + 8.2, clean(label), SIZE, anchor="middle", fill=SOFT))
    return out


def y_axis(scale: Scale, x: float, right: float, label: str) -> list[str]:
    """Axis along the left with ticks, faint grid lines and its label above."""
    out = [sheet.line(x, scale.start, x, scale.end, stroke=INK, stroke_width=0.3)]
    for value in scale.ticks(5):
        y = scale(value)
        out.append(sheet.line(x, y, right, y, stroke=RIM, stroke_width=0.12))
        out.append(sheet.line(x - 1.2, y, x, y, stroke=INK, stroke_width=0.25))
        out.append(sheet.write(x - 1.8, y + 0.95, shown(value), SIZE, anchor="end"))
    out.append(sheet.write(x - 10.0, scale.end - 3.0, clean(label), SIZE, fill=SOFT))
    return out


def legend(names: list[str], x: float, y: float, room: float) -> list[str]:
    """Names of the curves with a sample of each, in rows."""
    out, at = [], x
    for place, name in enumerate(names):
        text = clean(name)
        need = 9.0 + width(text, SIZE) + 4.0
        if at > x and at + need > x + room:
            at, y = x, y + 4.0
        out.append(
            sheet.line(
                at, y - 0.9, at + 7.0, y - 0.9, stroke=COLOURS[place % 6], stroke_width=0.6,
                stroke_dasharray=dash_of(place),
            )
        )  # fmt: skip
        out.append(sheet.write(at + 8.2, y, text, SIZE))
        at += need
    return out
