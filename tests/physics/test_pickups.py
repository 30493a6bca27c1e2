"""Fine-pore pickups and filters against capillary pressure and Darcy's law."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from plumbing.physics import filters, pickups

LAPLACE = "Young and Laplace, 4 sigma / pore with 0.026 N/m, by hand"


@pytest.mark.outside(LAPLACE, quantity="bubble point")
@pytest.mark.parametrize(
    ("pore", "kpa", "head", "head_5g"),
    [
        (10, 10.4, 1320, 263),
        (20, 5.2, 660, 132),
        (30, 3.5, 440, 88),
        (50, 2.1, 263, 53),
        (75, 1.4, 176, 35),
        (100, 1.0, 132, 26),
        (150, 0.7, 88, 18),
    ],
)
def test_bubble_points(pore, kpa, head, head_5g):
    """Bubble points of usual pores, and the fuel they hold at 1 g and 5 g."""
    held = pickups.bubble_point(0.026, pore * 1e-6)
    assert float(held) / 1e3 == pytest.approx(kpa, abs=0.05)
    at_1g = float(pickups.held_depth(held, 805.0, 9.80665)) * 1e3
    assert at_1g == pytest.approx(head, rel=0.006)
    assert at_1g / 5 == pytest.approx(head_5g, rel=0.025)


@pytest.mark.outside("Young and Laplace: cosine of the contact angle", quantity="poor wetting")
def test_poor_wetting():
    """At 60 degrees half the bubble point is left, and past a right angle none."""
    full = float(pickups.bubble_point(0.026, 3e-5))
    assert float(pickups.bubble_point(0.026, 3e-5, np.pi / 3)) == pytest.approx(full / 2)
    assert float(pickups.bubble_point(0.026, 3e-5, 2.0)) == 0.0


@pytest.mark.outside("Darcy: the same flow through half the area", quantity="uncovered pickup")
def test_half_covered():
    """Half in air a pickup drops twice as much; it breaks through at its bubble point."""
    assert float(pickups.porous_drop(500.0, 0.5)) == pytest.approx(1000.0)
    share = pickups.breakthrough_share(500.0, 2000.0)
    assert float(share) == pytest.approx(0.25)
    assert float(pickups.porous_drop(500.0, share)) == pytest.approx(2000.0)
    assert float(pickups.breakthrough_share(500.0, 2000.0, 1000.0)) == pytest.approx(0.5)
    assert float(pickups.breakthrough_share(500.0, 2000.0, 3000.0)) == 1.0


@pytest.mark.outside("Darcy's law, by hand", quantity="filter in cold fuel")
def test_filter_follows_viscosity():
    """A filter drops twice as much in fuel twice as stiff, and half at half the flow."""
    law = filters.filter_law(1000.0, 1e-5, 1.4e-3)
    given = law.linear, law.square, 800.0
    assert float(filters.filter_loss(1e-5, *given, 1.4e-3)[0]) == pytest.approx(1000.0)
    assert float(filters.filter_loss(1e-5, *given, 2.8e-3)[0]) == pytest.approx(2000.0)
    assert float(filters.filter_loss(5e-6, *given, 1.4e-3)[0]) == pytest.approx(500.0)
    assert float(filters.filter_loss(1e-5, *given, 1.4e-3, 3.0)[0]) == pytest.approx(3000.0)


@pytest.mark.outside("square law, by hand", quantity="filter with a dynamic part")
def test_filter_with_a_dynamic_part():
    """The dynamic part grows with the square of the flow, and the slope is the derivative."""
    law = filters.filter_law(1000.0, 1e-5, 1.4e-3, 800.0, square_share=0.4)
    given = law.linear, law.square, 800.0, 1.4e-3
    assert float(filters.filter_loss(1e-5, *given)[0]) == pytest.approx(1000.0)
    drop, slope = filters.filter_loss(2e-5, *given)
    assert float(drop) == pytest.approx(2 * 600.0 + 4 * 400.0)
    assert float(slope) == pytest.approx((600.0 + 2 * 2 * 400.0) / 1e-5)


def test_filter_without_a_figure():
    """A filter with no flow stated has no law and no loss."""
    assert filters.filter_law(1000.0, 0.0, 1.4e-3) == filters.FilterLaw(0.0, 0.0)


@given(st.floats(0.0, 1e6), st.floats(-1.0, 2.0), st.floats(0.0, 1e6), st.floats(-1e6, 1e6))
def test_always_finite(drop, share, held, head):
    """Pickups have finite drops and shares from 0 to 1, however dry."""
    assert np.isfinite(pickups.porous_drop(drop, share))
    assert 0.0 <= pickups.breakthrough_share(drop, held, head) <= 1.0
