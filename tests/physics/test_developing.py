"""The extra loss of developing flow."""

import pytest

from plumbing.physics.developing import ENTRY


@pytest.mark.outside(
    "literature 1.16 (Schlichting) to 1.33, Chen 1.20 + 38/Re; values from memory",
    quantity="Hagenbach term",
)
def test_term_is_within_the_literature():
    """The term lies within the values of the literature, and near Chen's over laminar flow."""
    assert 1.16 <= ENTRY <= 1.33
    for number in (400.0, 1000.0, 2000.0):
        assert pytest.approx(1.20 + 38.0 / number, abs=0.07) == ENTRY


@pytest.mark.outside(
    "capillary viscometry, 1.12 rho v2 from a still vessel, from memory", quantity="Hagenbach term"
)
def test_term_from_a_still_tank():
    """With the kinetic head of a still tank the term is that of capillary viscometers."""
    assert pytest.approx(2.24, rel=0.02) == 1.0 + ENTRY
