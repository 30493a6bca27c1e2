"""Areas under curves."""

import numpy as np
import pytest
from scipy.integrate import trapezoid

from plumbing.simulation.area import area_under


def test_area_of_a_triangle_and_a_second_method():
    """A triangle has half its base times its height; any curve what the library makes of it."""
    assert area_under(np.array([0.0, 3.0]), np.array([1.0, 5.0])) == pytest.approx(6.0)
    dice = np.random.default_rng(3)
    height, along = dice.random((4, 9)), np.sort(dice.random((4, 9)), axis=1)
    assert area_under(height, along) == pytest.approx(trapezoid(height, along, axis=1), rel=1e-12)
