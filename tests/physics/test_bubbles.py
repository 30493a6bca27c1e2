"""Bubbles against limits and common practice."""

import numpy as np
import pytest
from fluids.drag import Clift_Gauvin
from hypothesis import given
from hypothesis import strategies as st

from plumbing.physics import bubbles

KEROSENE = (805.0, 805.0 * 1.9e-6, 0.026)


@pytest.mark.outside(
    "Bretherton 1961, Bond number 0.842 on the radius, from memory", quantity="locked bubble"
)
def test_lock_bore():
    """Kerosene locks bubbles in tubes up to 3.3 mm; at 4 g the bore is half."""
    bore = float(bubbles.capillary_lock_bore(805.0, 0.026))
    assert bore == pytest.approx(3.33e-3, abs=5e-6)
    assert float(bubbles.bond(bore / 2, 805.0, 0.026)) == pytest.approx(0.842, rel=1e-9)
    assert float(bubbles.capillary_lock_bore(805.0, 0.026, 4 * 9.80665)) == pytest.approx(bore / 2)


@pytest.mark.outside(
    "Dumitrescu 1943, 0.345 sqrt(g D) in wide tubes, from memory", quantity="long bubble"
)
def test_long_bubble_in_a_wide_tube():
    """In a wide tube of thin liquid a long bubble rises as inertia lets it."""
    speed = float(bubbles.long_bubble_speed(0.2, 998.0, 1e-3, 0.072))
    assert speed == pytest.approx(0.345 * np.sqrt(9.80665 * 0.2), rel=1e-6)


@pytest.mark.outside(
    "common practice: 4 mm tube very slowly, 6 mm about 0.05 to 0.1 m/s", quantity="long bubble"
)
def test_long_bubbles_in_usual_tubes():
    """A bubble stays in 3 mm tube, creeps in 4 mm and rises in 6 mm."""
    still, slow, quick = bubbles.long_bubble_speed([3e-3, 4e-3, 6e-3], *KEROSENE)
    assert still == 0.0
    assert 0.0 < slow < 0.02
    assert 0.04 < quick < 0.1


@pytest.mark.outside("Stokes's law, rho g d2 / 18 mu", quantity="rise of a tiny bubble")
def test_tiny_bubbles():
    """A bubble of 10 micrometres rises as Stokes says."""
    rho, mu, sigma = KEROSENE
    stokes = rho * 9.80665 * 1e-10 / (18 * mu)
    assert float(bubbles.bubble_rise_speed(1e-5, rho, mu, sigma)) == pytest.approx(stokes, rel=2e-3)


@pytest.mark.outside(
    "common practice: 1 mm about 100 mm/s, 0.3 mm 20 to 25 mm/s", quantity="rise of small bubbles"
)
def test_small_bubbles():
    """Bubbles of 0.3 and 1 mm rise about as fast as practice says."""
    small, large = bubbles.bubble_rise_speed([3e-4, 1e-3], *KEROSENE) * 1e3
    assert small == pytest.approx(22.0, rel=0.15)
    assert large == pytest.approx(100.0, rel=0.1)


@pytest.mark.parametrize("diameter", [5e-5, 3e-4, 1e-3])
def test_drag_balances_weight(diameter):
    """At the rise speed another law for the drag of a sphere carries the bubble's lift."""
    rho, mu, sigma = KEROSENE
    speed = float(bubbles.bubble_rise_speed(diameter, rho, mu, sigma))
    drag = Clift_Gauvin(rho * speed * diameter / mu) * 0.5 * rho * speed**2
    lift = rho * 9.80665 * diameter * 2 / 3
    assert drag == pytest.approx(lift, rel=0.03)


@pytest.mark.outside(
    "600 ml/min in a 40 mm bore sinks at 8 mm/s, arithmetic", quantity="header downflow"
)
def test_downflow():
    """Fuel sinks at 8 mm/s through a header of 40 mm bore."""
    speed = bubbles.downflow_speed(600e-6 / 60, np.pi / 4 * 0.04**2)
    assert float(speed) * 1e3 == pytest.approx(8.0, abs=0.05)


@given(st.floats(0.0, 0.05), st.floats(500.0, 1500.0), st.floats(1e-4, 1.0), st.floats(0.0, 200.0))
def test_always_finite(size, rho, mu, gravity):
    """Every bubble has a finite speed that is not negative, weightless ones too."""
    for law in (bubbles.bubble_rise_speed, bubbles.long_bubble_speed):
        speed = law(size, rho, mu, 0.026, gravity)
        assert np.isfinite(speed)
        assert speed >= 0.0
