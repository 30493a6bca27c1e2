"""Where lines go through formers, by hand."""

import math
from dataclasses import replace

import pytest

from plumbing import layout as layouts
from plumbing.checks.pierced import nearest, piercings
from plumbing.model.layout import Layout


def routed(*points: tuple[float, float, float]) -> Layout:
    """The plainest starter with its feed led through these points."""
    layout = layouts.read(layouts.starter("single-main"))
    line = replace(layout.lines["feed"], route=points, bend_radius=1e-3)
    return replace(layout, lines={**layout.lines, "feed": line})


@pytest.mark.outside("right triangle worked by hand", quantity="angle between tube and wall")
def test_a_slanting_leg_by_hand() -> None:
    """A leg of 30 along x and 40 up goes through at asin(30 / 50) = 36.87 deg, half way up."""
    former = layouts.read(layouts.starter("single-main")).formers["F2"]
    x = former.station
    layout = routed((x - 0.015, 0.0, 0.1), (x + 0.015, 0.0, 0.14))
    found = nearest(piercings(layout, layout.lines["feed"], former), (0.0, 0.12))
    assert found is not None
    assert math.degrees(found.angle) == pytest.approx(36.8699, abs=0.001)
    assert found.at == pytest.approx((0.0, 0.12), abs=1e-6)


def test_a_square_leg_and_none() -> None:
    """A leg along x meets the wall at 90 deg; a plane beyond the line is not met."""
    layout = layouts.read(layouts.starter("single-main"))
    former, line = layout.formers["F2"], layout.lines["feed"]
    found = piercings(layout, line, former)
    assert [math.degrees(one.angle) for one in found] == pytest.approx([90.0])
    assert piercings(layout, line, replace(former, station=50.0)) == ()
    assert nearest((), (0.0, 0.0)) is None
