import numpy as np
import pytest

from plumbing.geometry.distance import (
    least_along,
    point_to_box,
    point_to_cylinder,
    point_to_segment,
)

HAND = "hand limit: right triangles"


def least(distance, start, end):
    """Smallest distance along one segment."""
    first, last = (np.atleast_2d(np.asarray(point, float)) for point in (start, end))
    return least_along(distance, first, last)[0]


def segment_to_box(start, end, size):
    """Distance from a segment to a box about the origin."""
    return least(lambda p: point_to_box(p, size), start, end)


def segment_to_cylinder(start, end, length, radius, axis="x"):
    """Distance from a segment to a cylinder about the origin."""
    return least(lambda p: point_to_cylinder(p, length, radius, axis), start, end)


def to_rod(start, end, other_start, other_end):
    """Distance between two segments."""
    return least(lambda p: point_to_segment(p, other_start, other_end), start, end)


def along(start, end, count=4001):
    """Points along a segment."""
    return start + np.linspace(0, 1, count)[:, None] * (end - start)


@pytest.mark.outside("second method: closest of finely sampled points", quantity="distances")
def test_random_segments_against_sampling():
    """The closed forms are never above the closest sampled pair and hardly below it."""
    rng = np.random.default_rng(11)
    for a, b, c, d in rng.normal(size=(25, 4, 3)):
        one = along(a, b)
        assert to_rod(a, b, c, d) == pytest.approx(point_to_segment(one, c, d).min(), abs=1e-5)
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
    assert segment_to_box((-5, 0, 0), (5, 0.1, 0), (2, 2, 2)) == pytest.approx(0.0, abs=1e-6)
    assert segment_to_cylinder((-5, 3, 0), (5, 3, 0), 2.0, 1.0) == pytest.approx(2.0)
    assert segment_to_cylinder((4, 5, 0), (9, 5, 0), 2.0, 1.0) == pytest.approx(5.0)
    assert segment_to_cylinder((0, 0, -5), (0, 0, 5), 2.0, 1.0, "z") == pytest.approx(0.0, abs=1e-6)
    assert segment_to_cylinder((0.3, -9, 0), (0.3, 9, 0), 0.0, 1.0) == pytest.approx(0.3)
    assert segment_to_cylinder((3, 5, -1), (3, 5, 1), 0.0, 1.0) == pytest.approx(5.0)


def test_distances_do_not_depend_on_the_axes():
    """A cylinder along y seen along y is a cylinder along x seen along x."""
    a, b = np.random.default_rng(2).normal(size=(2, 50, 3))
    turned = least_along(
        lambda p: point_to_cylinder(p, 0.5, 0.2, "y"), np.roll(a, 1, 1), np.roll(b, 1, 1)
    )
    straight = least_along(lambda p: point_to_cylinder(p, 0.5, 0.2, "x"), a, b)
    assert turned == pytest.approx(straight)
