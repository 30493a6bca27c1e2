"""Formers and their holes, held to cases worked by hand."""

import math
from dataclasses import replace

import pytest

from plumbing import layout as layouts
from plumbing.model.layout import Layout
from plumbing.model.structure import Former, Passage
from plumbing.network.former_holes import (
    box_distance,
    edge_distance,
    nearest,
    piercings,
    within,
    worst_section,
)

SQUARE = ((-0.1, -0.1), (0.1, -0.1), (0.1, 0.1), (-0.1, 0.1))
RING = Former(
    name="c",
    station=0.0,
    thickness=0.003,
    material="plywood",
    outline=((-0.1, -0.1), (0.1, -0.1), (0.1, 0.1), (0.06, 0.1), (0.06, -0.06), (-0.1, -0.06)),
    passages={"p": Passage(name="p", at=(0.08, -0.08), diameter=0.02)},
)


def _former(**holes):
    passages = {n: Passage(name=n, at=(y, z), diameter=d) for n, (y, z, d) in holes.items()}
    return Former(
        name="f",
        station=0.3,
        thickness=0.003,
        material="plywood",
        outline=SQUARE,
        passages=passages,
    )


@pytest.mark.parametrize(
    ("centre", "expected"), [((0, 0), 0.1), ((0.07, 0.02), 0.03), ((0.13, 0.14), -0.05)]
)
def test_edge_distance(centre, expected):
    """Inside it is the distance to the nearest side, outside the same below zero."""
    former = _former(p=(*centre, 0.01))
    assert edge_distance(former, former.passages["p"]) == pytest.approx(expected)


def test_box_distance():
    """Corners may be given in any order; inside the box the distance is zero."""
    hole = Passage(name="p", at=(0.03, 0.04), diameter=0.01)
    assert box_distance(((0.0, 0.0), (-1.0, -1.0)), hole) == pytest.approx(0.05)
    assert box_distance(((1.0, -1.0), (-1.0, 1.0)), hole) == 0.0


def test_worst_section_adds_holes_in_line():
    """Two holes of 20 mm in a row take 40 of 200 mm; one beside them by more adds nothing."""
    share, where = worst_section(_former(a=(0, 0.05, 0.02), b=(0, -0.05, 0.02), c=(0.05, 0, 0.02)))
    assert share == pytest.approx(0.2)
    assert where == "y = 0 mm"


def test_section_counts_only_what_is_there():
    """Through the corner of an L the arm is what a section cuts: 20 mm of the 40 mm foot."""
    share, _ = worst_section(RING)
    assert share == pytest.approx(0.1)  # 20 of 200 mm both ways through the corner
    slim = RING.passages["p"]
    foot = Former(
        name="c",
        station=0.0,
        thickness=0.003,
        material="plywood",
        outline=RING.outline,
        passages={"p": Passage(name="p", at=(0.0, -0.08), diameter=slim.diameter)},
    )
    assert worst_section(foot)[0] == pytest.approx(0.5)


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


def test_crossing_of_former_and_rib() -> None:
    """A slanting line meets a former and a rib where similar triangles say."""
    layout = routed((0.4, 0.0, 0.1), (0.5, 0.05, 0.1))
    line = layout.lines["feed"]
    former = replace(_former(), station=0.42)
    assert [one.at for one in piercings(layout, line, former)] == [pytest.approx((0.01, 0.1))]
    rib = Former(name="r", across="y", station=0.02, thickness=0.003, material="balsa")
    first, *_ = piercings(layout, line, rib)
    assert first.at == pytest.approx((0.44, 0.1))
    assert within(_former(), (0.03, 0.015))
    assert not within(_former(), (0.3, 0.0))
