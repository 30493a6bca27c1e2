import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plumbing.geometry.polygon import inside, signed_area, triangulated

L_SHAPE = [(0, 0), (3, 0), (3, 1), (1, 1), (1, 2), (0, 2)]


@pytest.mark.outside("area by hand: 3 + 1 squares", quantity="area of a polygon")
def test_area_of_an_angle():
    """An L of four unit squares has area four, negative when run clockwise."""
    assert signed_area(L_SHAPE) == pytest.approx(4.0)
    assert signed_area(L_SHAPE[::-1]) == pytest.approx(-4.0)


def test_inside_of_an_angle():
    """Points in the arms are inside, the notch is not."""
    points = [(0.5, 1.5), (2.5, 0.5), (2.0, 1.5), (-1.0, 0.5), (4.0, 0.5)]
    assert inside(L_SHAPE, points).tolist() == [True, True, False, False, False]


@pytest.mark.parametrize(
    "outline",
    [
        L_SHAPE,
        L_SHAPE[::-1],
        [(0, 0), (1, 0), (2, 0), (2, 1), (2, 2), (1, 2), (0, 2), (0, 1)],
        [(0, 0), (4, 0), (4, 4), (3, 4), (3, 1), (1, 1), (1, 4), (0, 4)],
        [(0, 0), (2, 1), (4, 0), (3, 2), (4, 4), (2, 3), (0, 4), (1, 2)],
    ],
)
def test_triangles_fill_the_outline(outline):
    """The triangles keep the outline's sense and add up to its area."""
    corners = np.array(outline, float)
    parts = [signed_area(corners[t]) for t in triangulated(corners)]
    assert len(parts) == len(corners) - 2
    assert sum(parts) == pytest.approx(signed_area(corners))
    assert sum(abs(p) for p in parts) == pytest.approx(abs(signed_area(corners)))


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(0.1, 1.0), min_size=3, max_size=25))
def test_any_star_is_filled(radii):
    """A star-shaped outline of any raggedness is filled without overlap."""
    turn = 2.0 * np.pi * np.arange(len(radii)) / len(radii)
    corners = np.stack([np.cos(turn), np.sin(turn)], axis=1) * np.array(radii)[:, None]
    parts = [abs(signed_area(corners[t])) for t in triangulated(corners)]
    assert sum(parts) == pytest.approx(signed_area(corners))
