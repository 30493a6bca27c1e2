"""Fine-pore pickups against capillary pressure."""

import numpy as np
import pytest

from plumbing.physics import pickups

LAPLACE = "Young and Laplace, 4 sigma / pore with 0.026 N/m, by hand"


@pytest.mark.outside(LAPLACE, quantity="bubble point")
@pytest.mark.parametrize(
    ("pore", "kpa"),
    [
        (10, 10.4),
        (20, 5.2),
        (30, 3.5),
        (50, 2.1),
        (75, 1.4),
        (100, 1.0),
        (150, 0.7),
    ],
)
def test_bubble_points(pore, kpa):
    """Bubble points of usual pores."""
    held = pickups.bubble_point(0.026, pore * 1e-6)
    assert float(held) / 1e3 == pytest.approx(kpa, abs=0.05)


@pytest.mark.outside("Young and Laplace: cosine of the contact angle", quantity="poor wetting")
def test_poor_wetting():
    """At 60 degrees half the bubble point is left, and past a right angle none."""
    full = float(pickups.bubble_point(0.026, 3e-5))
    assert float(pickups.bubble_point(0.026, 3e-5, np.pi / 3)) == pytest.approx(full / 2)
    assert float(pickups.bubble_point(0.026, 3e-5, 2.0)) == 0.0
