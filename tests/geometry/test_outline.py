import numpy as np
import pytest

from plumbing.geometry import solids
from plumbing.geometry.attitude import direction
from plumbing.geometry.cut import cut
from plumbing.geometry.outline import FRONT, PLAN, SIDE, rims, silhouette
from plumbing.geometry.polygon import signed_area

BOX = solids.box((0.3, 0.1, 0.2))
NOTCH = [(0, 0), (0.1, 0), (0.1, 0.1), (0.06, 0.1), (0.06, 0.02), (0.04, 0.02), (0.04, 0.1)]
TROUGH = solids.prism((0.0, 0.3), [[*NOTCH, (0, 0.1)]] * 2)


def area(loops):
    """Area of loops that do not overlap."""
    return sum(signed_area(loop) for loop in loops)


@pytest.mark.outside("hand: faces of a box", quantity="area of a silhouette")
@pytest.mark.parametrize(("plane", "expected"), [(PLAN, 0.03), (SIDE, 0.06), (FRONT, 0.02)])
def test_shadow_of_a_box(plane, expected):
    """A box throws the shadow of the face seen."""
    loops = silhouette(BOX, plane)
    assert len(loops) == 1
    assert area(loops) == pytest.approx(expected)


def test_shadow_of_a_concave_body_keeps_its_notch():
    """A trough seen along its length shows the notch."""
    assert area(silhouette(TROUGH, FRONT)) == pytest.approx(0.01 - 0.02 * 0.08)


@pytest.mark.outside("area of a sphere's shadow", quantity="area of a silhouette")
def test_shadow_of_a_sphere():
    """A sphere throws a circle from every side."""
    axes = np.array([[0.6, 0.0, 0.8], [0.0, 1.0, 0.0]])
    loops = silhouette(solids.ellipsoid((0.2, 0.2, 0.2)), axes)
    assert area(loops) == pytest.approx(np.pi * 0.01, rel=5e-3)


def test_the_free_surface_has_the_area_the_cut_says():
    """Rim loops enclose the area of the free surface, facing against gravity."""
    for mesh in (BOX, TROUGH, solids.capsule(0.3, 0.1)):
        down = direction((0.3, 0.2, -0.8))
        table = cut(mesh, down)
        level = float(0.4 * table.bottom[0] + 0.6 * table.top[0])
        total = sum(
            0.5 * np.cross(rim - rim[0], np.roll(rim, -1, 0) - rim[0]).sum(axis=0) @ -down
            for rim in rims(mesh, down, level)
        )
        low, high = table.volume_at([level - 1e-5, level + 1e-5], [0, 0])
        assert total == pytest.approx((high - low) / 2e-5, rel=1e-6)


def test_two_legs_of_a_trough_hold_two_surfaces():
    """Above the step the liquid of a trough has two free surfaces."""
    assert len(rims(TROUGH, (0.0, 0.0, -1.0), 0.05)) == 2
    assert len(rims(TROUGH, (0.0, 0.0, -1.0), 0.01)) == 1
