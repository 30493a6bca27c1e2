import numpy as np
import pytest

from plumbing.geometry.distance import (
    point_to_box,
    point_to_cylinder,
    point_to_segment,
    polyline_to_polyline,
    segment_to_box,
    segment_to_cylinder,
    segment_to_disc,
    segment_to_polygon,
    segment_to_segment,
)

HAND = "hand limit: right triangles"


@pytest.mark.outside(HAND, quantity="distance between segments")
@pytest.mark.parametrize(
    ("first", "second", "expected"),
    [
        (((0, 0, 0), (1, 0, 0)), ((0.5, -1, 2), (0.5, 1, 2)), 2.0),  # crossing over
        (((0, 0, 0), (1, 0, 0)), ((0, 3, 0), (1, 3, 0)), 3.0),  # side by side
        (((0, 0, 0), (1, 0, 0)), ((4, 4, 0), (9, 4, 0)), 5.0),  # parallel, apart: 3-4-5
        (((0, 0, 0), (1, 0, 0)), ((0.5, 0, 0), (3, 0, 0)), 0.0),  # on top of each other
        (((0, 0, 0), (0, 0, 0)), ((3, 4, 0), (3, 9, 0)), 5.0),  # a point
        (((0, 0, 0), (1, 1, 0)), ((0, 1, 0), (1, 0, 0)), 0.0),  # meeting
        (((0, 0, 0), (1, 0, 0)), ((2, -1, 1), (2, 1, 1)), np.sqrt(2)),  # past the end
    ],
)
def test_segments(first, second, expected):
    """Distances of two segments in the positions that matter."""
    assert segment_to_segment(*first, *second) == pytest.approx(expected, abs=1e-12)
    assert segment_to_segment(*second, *first) == pytest.approx(expected, abs=1e-12)


def along(start, end, count=4001):
    """Points along a segment."""
    return start + np.linspace(0, 1, count)[:, None] * (end - start)


@pytest.mark.outside("second method: closest of finely sampled points", quantity="distances")
def test_random_segments_against_sampling():
    """The closed forms are never above the closest sampled pair and hardly below it."""
    rng = np.random.default_rng(11)
    for a, b, c, d in rng.normal(size=(25, 4, 3)):
        one = along(a, b)
        assert segment_to_segment(a, b, c, d) == pytest.approx(
            point_to_segment(one, c, d).min(), abs=1e-5
        )
        assert segment_to_box(a, b, (0.5, 0.3, 0.8)) == pytest.approx(
            point_to_box(one, (0.5, 0.3, 0.8)).min(), abs=1e-3
        )
        assert segment_to_cylinder(a, b, 0.7, 0.3, "y") == pytest.approx(
            point_to_cylinder(one, 0.7, 0.3, "y").min(), abs=1e-3
        )


@pytest.mark.outside(HAND, quantity="distance to a box, cylinder or disc")
def test_bodies():
    """Beside, past an edge, past a corner, through, and along."""
    assert segment_to_box((2, -5, 0), (2, 5, 0), (2, 2, 2)) == pytest.approx(1.0)
    assert segment_to_box((4, 5, 1), (4, 5, 9), (2, 2, 2)) == pytest.approx(5.0)
    assert segment_to_box((-5, 0, 0), (5, 0.1, 0), (2, 2, 2)) == pytest.approx(0.0)
    assert segment_to_cylinder((-5, 3, 0), (5, 3, 0), 2.0, 1.0) == pytest.approx(2.0)
    assert segment_to_cylinder((4, 5, 0), (9, 5, 0), 2.0, 1.0) == pytest.approx(5.0)
    assert segment_to_cylinder((0, 0, -5), (0, 0, 5), 2.0, 1.0, "z") == pytest.approx(0.0)
    assert segment_to_disc((0.3, -9, 0), (0.3, 9, 0), 1.0) == pytest.approx(0.3)
    assert segment_to_disc((3, 5, -1), (3, 5, 1), 1.0) == pytest.approx(5.0)


@pytest.mark.outside(HAND, quantity="distance to a flat polygon in space")
def test_polygons():
    """Over it, through it, beside it, and in the notch of a concave one."""
    notch = [(0, 0, 1), (4, 0, 1), (4, 4, 1), (3, 4, 1), (3, 1, 1), (1, 1, 1), (1, 4, 1), (0, 4, 1)]
    assert segment_to_polygon((0.5, 0.5, 3), (0.5, 0.5, 2), notch) == pytest.approx(1.0)
    assert segment_to_polygon((0.5, 0.5, 3), (0.5, 0.5, -2), notch) == pytest.approx(0.0)
    assert segment_to_polygon((7, 2, 5), (9, 2, 5), notch) == pytest.approx(5.0)
    assert segment_to_polygon((2, 3, 3), (2, 3, -2), notch) == pytest.approx(1.0)


def test_distances_do_not_depend_on_the_axes():
    """A cylinder along y seen along y is a cylinder along x seen along x."""
    a, b = np.random.default_rng(2).normal(size=(2, 50, 3))
    turned = segment_to_cylinder(np.roll(a, 1, 1), np.roll(b, 1, 1), 0.5, 0.2, "y")
    assert turned == pytest.approx(segment_to_cylinder(a, b, 0.5, 0.2, "x"))


def test_polylines():
    """Two lines come closest where their nearest legs do."""
    one = [(0, 0, 0), (1, 0, 0), (1, 1, 0)]
    two = [(3, 3, 0), (1.5, 0.5, 0), (3, -3, 0)]
    assert polyline_to_polyline(one, two) == pytest.approx(0.5)
