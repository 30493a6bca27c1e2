"""Charts: points where the numbers say, round ticks, gaps where there is no value."""

import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest

from plumbing.drawing.charts import Limit, Series, chart
from plumbing.drawing.plotting import COLOURS, Scale, dash_of, round_step, spread
from plumbing.drawing.stairs import stair

SVG = "{http://www.w3.org/2000/svg}"


def _texts(svg: str) -> list[str]:
    return [text.text or "" for text in ET.fromstring(svg).iter(f"{SVG}text")]


def _curves(svg: str) -> list[str]:
    root = ET.fromstring(svg)
    series = [g for g in root.iter(f"{SVG}g") if g.get("class") == "series"]
    return [path.get("d", "") for g in series for path in g.iter(f"{SVG}path")]


def test_a_dozen_curves_are_told_apart() -> None:
    """No two of the first three dozen curves have both colour and dashes in common."""
    looks = {(COLOURS[place % len(COLOURS)], dash_of(place)) for place in range(36)}
    assert len(looks) == 36


@pytest.mark.parametrize(
    ("rough", "step"), [(0.9, 1.0), (1.1, 2.0), (3.0, 5.0), (6.0, 10.0), (0.013, 0.02)]
)
def test_steps_are_one_two_five(rough: float, step: float) -> None:
    """Ticks go by 1, 2 or 5 times a power of ten, never finer than asked."""
    assert round_step(rough) == pytest.approx(step)


@pytest.mark.parametrize("values", [[1.3, 8.7], [-2e-4, 3e-4], [5.0, 5.0], [0.0], [], [1e9, 2e9]])
def test_bounds_hold_all_values_and_are_ticks(values: list[float]) -> None:
    """The bounds of an axis hold every value and fall on ticks."""
    low, high = spread(values)
    assert low < high
    assert all(low <= value <= high for value in values)
    ticks = Scale(low, high, 0.0, 100.0).ticks()
    assert 2 <= len(ticks) <= 14


def test_a_straight_line_is_drawn_straight() -> None:
    """Equal steps of the values are equal steps on paper, up for more."""
    (d,) = _curves(chart([Series("a", [0, 1, 2], [0, 5, 10])], "t [s]", "q [ml]"))
    points = [tuple(map(float, pair.split())) for pair in re.split("[ML]", d)[1:]]
    (x0, y0), (x1, y1), (x2, y2) = points
    assert x1 - x0 == pytest.approx(x2 - x1, abs=2e-3)
    assert y1 - y0 == pytest.approx(y2 - y1, abs=2e-3)
    assert x2 > x0
    assert y2 < y0


def test_a_value_that_is_not_a_number_leaves_a_gap() -> None:
    """Values that are not finite break the curve and never reach the drawing."""
    svg = chart([Series("a", [0, 1, 2, 3], [1.0, np.nan, 2.0, np.inf])], "t [s]", "q [ml]")
    (d,) = _curves(svg)
    assert d.count("M") == 2
    assert "nan" not in svg
    assert "inf" not in svg


def test_limits_and_phases_are_named() -> None:
    """A limit and the phases of a flight stand in the chart by name."""
    svg = chart(
        [Series("a", [0, 60], [1, 2])],
        "time [s]",
        "suction [kPa]",
        limits=[Limit("allowed", 1.5)],
        bands=[(0, 30, "taxi"), (30, 60, "climb")],
    )
    assert {"allowed", "taxi", "climb", "time [s]", "suction [kPa]"} <= set(_texts(svg))


@pytest.mark.outside("hand: 0.4 + 1.9 - 0.6 = 1.7", quantity="sum of drops")
def test_a_stair_ends_at_the_sum() -> None:
    """The sum under a stair is the sum of its steps, gains taken off."""
    texts = _texts(stair(["hose", "line", "head"], [0.4, 1.9, -0.6]))
    assert "1.7 kPa" in texts
    assert {"+0.4", "+1.9", "-0.6"} <= set(texts)


def test_names_are_escaped() -> None:
    """Markup in names is drawn as text."""
    svg = chart([Series("<b>&", [0, 1], [0, 1])], "x", "y", title="</svg>")
    ET.fromstring(svg)
    assert "<b>&" in _texts(svg)
