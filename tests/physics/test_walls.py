"""Strength of tank walls, held to handbook formulas worked by hand."""

import pytest

from plumbing.physics.walls import flat_burst, round_burst, round_collapse


@pytest.mark.outside("thin shell, worked by hand", quantity="burst pressure of a cylinder")
def test_a_thin_cylinder_yields_at_two_strength_thickness_over_diameter():
    """20 MPa, 1.5 mm, 75 mm: 800 kPa."""
    assert round_burst(20e6, 1.5e-3, 75e-3) == pytest.approx(800e3)


@pytest.mark.outside(
    "Timoshenko's clamped square plate, from memory; bulging by common practice",
    quantity="burst pressure of a flat wall",
)
def test_a_flat_wall_stands_far_less():
    """20 MPa, 1.5 mm, 90 mm: 18 kPa as a plate, four times that bulged."""
    assert flat_burst(20e6, 1.5e-3, 90e-3) == pytest.approx(72e3, rel=0.01)


@pytest.mark.outside(
    "Windenburg and Trilling 1934, from memory, worked by hand",
    quantity="collapse pressure of a cylinder",
)
def test_a_short_cylinder_buckles_later_than_a_long_one():
    """Aluminium of 1 mm, 100 mm diameter, 200 mm long, t/D 0.01: 2.42 70e9 1e-5 / 0.932 / 1.955."""
    short = round_collapse(70e9, 1e-3, 0.1, 0.2)
    assert short == pytest.approx(930e3, rel=0.01)
    assert round_collapse(70e9, 1e-3, 0.1, 0.4) == pytest.approx(short / 2.0, rel=0.02)
