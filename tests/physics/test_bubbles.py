"""Bubbles against limits and common practice."""

import pytest

from plumbing.physics import bubbles


@pytest.mark.outside(
    "Bretherton 1961, Bond number 0.842 on the radius, from memory", quantity="locked bubble"
)
def test_lock_bore():
    """Kerosene locks bubbles in tubes up to 3.3 mm; at 4 g the bore is half."""
    bore = float(bubbles.capillary_lock_bore(805.0, 0.026))
    assert bore == pytest.approx(3.33e-3, abs=5e-6)
    assert 805.0 * 9.80665 * (bore / 2) ** 2 / 0.026 == pytest.approx(0.842, rel=1e-9)
    assert float(bubbles.capillary_lock_bore(805.0, 0.026, 4 * 9.80665)) == pytest.approx(bore / 2)
