"""Lengths of lines."""

import math
from dataclasses import replace

import pytest

from plumbing.network.lengths import CUT_MARGIN, PUSHED_ON, line_length

from .wiring import wire


def line(route=(), end=(0.3, 0.0, 0.0), **changes):
    """Lengths of one line from the origin to a pump, and its layout."""
    layout = wire("m.pick - pump")
    pump = replace(layout.pumps["pump"], at=end)
    made = replace(layout.lines["line-1"], route=route, **changes)
    return line_length(replace(layout, pumps={"pump": pump}, lines={"line-1": made}), made)


def test_straight_line():
    """Without corners chord and route are the distance of the ports."""
    assert line().chord == pytest.approx(0.3)
    assert line().routed == pytest.approx(0.3)
    assert line().used == line().routed
    assert line().slack is None


@pytest.mark.outside(
    "hand: a right-angle corner rounded with radius r is 2 r - pi r / 2 shorter",
    quantity="routed length with a rounded corner",
)
def test_rounded_corner():
    """A right angle of 30 mm radius saves 2 r minus a quarter circle."""
    corner = line(route=((0.3, 0.0, 0.0),), end=(0.3, 0.3, 0.0), bend_radius=0.03)
    assert corner.routed == pytest.approx(0.6 - (2.0 - math.pi / 2.0) * 0.03, rel=1e-12)


def test_radius_too_large_is_cut_to_fit():
    """Where the straights are short the largest arc that fits is taken: all of each leg."""
    corner = line(route=((0.3, 0.0, 0.0),), end=(0.3, 0.3, 0.0), bend_radius=9.0)
    assert corner.routed == pytest.approx(0.6 - (2.0 - math.pi / 2.0) * 0.3, rel=1e-12)


def test_doubled_and_reversed_points_do_no_harm():
    """Points written twice count once, and a line that turns back has a finite length."""
    assert line(route=((0.1, 0.0, 0.0), (0.1, 0.0, 0.0))).routed == pytest.approx(0.3)
    back = line(route=((0.2, 0.0, 0.0), (0.1, 0.0, 0.0)), bend_radius=0.01).routed
    assert math.isfinite(back)
    assert back > 0.0


@pytest.mark.outside(
    "common practice: cut length is the route plus 5 % and the tube over both barbs",
    quantity="length to cut",
)
def test_cut_length_and_slack():
    """The cut adds margin and both ends to the route; slack is what the stated cut leaves."""
    found = line(cut_length=0.35, spare=0.04)
    ends = 2.0 * PUSHED_ON * 6e-3
    assert found.to_cut == pytest.approx(0.3 * (1.0 + CUT_MARGIN) + ends + 0.04)
    assert found.slack == pytest.approx(0.35 - 0.3 - ends)
    assert found.used == 0.35
