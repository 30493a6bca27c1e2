import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plumbing.geometry.humps import extrema
from plumbing.geometry.route import (
    bend_angles,
    filleted,
    filleted_length,
    fits,
    length,
    room,
    sampled,
)

ELBOW = [(0.0, 0.0, 0.0), (0.2, 0.0, 0.0), (0.2, 0.3, 0.0)]
UP = (0.0, 0.0, 1.0)
coordinate = st.floats(-1.0, 1.0)
paths = st.lists(st.tuples(coordinate, coordinate, coordinate), min_size=2, max_size=8)


@pytest.mark.outside("hand: a quarter circle in place of two tangents", quantity="length of a line")
def test_a_rounded_elbow():
    """A right angle of radius r saves 2r - pi r / 2."""
    assert length(ELBOW) == pytest.approx(0.5)
    assert bend_angles(ELBOW) == pytest.approx([np.pi / 2])
    assert filleted_length(ELBOW, 0.05) == pytest.approx(0.5 - 0.1 + np.pi * 0.025)
    assert filleted(ELBOW, 0.05).centres[0] == pytest.approx((0.15, 0.05, 0.0))


@pytest.mark.outside("hand: tangent length r tan(a/2)", quantity="room for a bend")
def test_room_for_bends():
    """Each leg loses r tan(a/2) at each of its bends."""
    z_shape = [(0, 0, 0), (0.1, 0, 0), (0.1, 0.1, 0), (0.2, 0.1, 0)]
    assert room(z_shape, 0.03) == pytest.approx([0.07, 0.04, 0.07])
    assert fits(z_shape, 0.05).tolist() == [True, True, True]
    assert fits(z_shape, 0.051).tolist() == [True, False, True]
    assert fits(z_shape, 0.03, straight=0.05).tolist() == [True, False, True]
    sixty = [(0, 0, 0), (1, 0, 0), (1.5, np.sqrt(0.75), 0)]
    assert room(sixty, 0.3)[0] == pytest.approx(1 - 0.3 / np.sqrt(3))


def test_turning_straight_back_never_fits():
    """A leg laid back on itself has no room for any radius."""
    there_and_back = [(0, 0, 0), (1, 0, 0), (0.5, 0, 0)]
    assert not fits(there_and_back, 0.01).any()
    assert np.isfinite(filleted_length(there_and_back, 0.01))
    assert np.isfinite(sampled(filleted(there_and_back, 0.01))).all()


@settings(max_examples=80, deadline=None)
@given(paths, st.floats(0.0, 0.3))
def test_a_rounded_line_is_sound(path, radius):
    """Rounding never lengthens a line, keeps its ends, and its samples measure its length."""
    curve = filleted(path, radius)
    assert curve.length <= length(path) + 1e-9
    points = sampled(curve, 0.01)
    assert np.isfinite(points).all()
    assert points[0] == pytest.approx(path[0])
    assert points[-1] == pytest.approx(path[-1])
    steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
    assert steps.max() <= 0.01 + 1e-9
    assert steps.sum() == pytest.approx(curve.length, rel=2e-3, abs=1e-5)


@pytest.mark.outside("hand: heights read off the sketch", quantity="height of an inverted U")
def test_humps_and_sags():
    """An inverted U rises over its lower foot's opposite side; a sag hangs below its rims."""
    line = [(0, 0, 0), (0.1, 0, 0.2), (0.2, 0, 0.05), (0.3, 0, 0.12), (0.4, 0, -0.1)]
    found = extrema(line, UP)
    assert found.high[0].tolist() == [False, True, False, True, False]
    assert found.low[0].tolist() == [False, False, True, False, False]
    assert found.rise[0, 1] == pytest.approx(0.2)  # over the start; the end is lower still
    assert found.rise[0, 3] == pytest.approx(0.12)  # over the start, the far end being lower
    assert found.sag[0, 2] == pytest.approx(0.07)
    assert found.rise[0][found.high[0]].max() == pytest.approx(0.2)
    assert found.deepest_sag[0] == pytest.approx(0.07)


def test_level_stretches_count_once():
    """A flat top is one high point, a flat step on a slope none."""
    flat_top = [(0, 0, 0), (1, 0, 1), (2, 0, 1), (3, 0, 0)]
    step = [(0, 0, 0), (1, 0, 1), (2, 0, 1), (3, 0, 2)]
    assert extrema(flat_top, UP).high[0].tolist() == [False, True, False, False]
    assert not extrema(step, UP).high.any()
    assert not extrema(step, UP).low.any()


def test_many_directions_at_once():
    """Upside down every hump is a sag of the same size."""
    line = np.random.default_rng(1).normal(size=(9, 3))
    found = extrema(line, [UP, (0.0, 0.0, -1.0)])
    assert found.rise[0] == pytest.approx(found.sag[1])
    assert (found.high[0] == found.low[1]).all()


def test_rounding_lowers_a_hump():
    """The real curve's top lies below the drawn corner."""
    corner = [(0, 0, 0), (0.1, 0, 0.1), (0.2, 0, 0)]
    curve = sampled(filleted(corner, 0.03), 0.0005)
    expected = 0.1 - 0.03 * (np.sqrt(2.0) - 1.0)
    rounded = extrema(curve, UP)
    assert rounded.rise[0][rounded.high[0]].max() == pytest.approx(expected, abs=1e-5)


def test_lines_without_bends():
    """Two points make a straight line without corners, room or humps."""
    straight = [(0, 0, 0), (0.3, 0.4, 0)]
    assert filleted_length(straight, 0.05) == pytest.approx(0.5)
    assert room(straight, 0.05) == pytest.approx([0.5])
    assert not extrema(straight, UP).high.any()
