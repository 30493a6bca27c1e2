"""The extra loss of developing flow."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from plumbing.physics import developing


@pytest.mark.outside("White, L = 0.06 Re D, from memory", quantity="entrance length")
def test_entrance_length():
    """A 2.5 mm tube at Re 1415 needs 212 mm for the flow to take shape."""
    assert float(developing.entrance_length(1414.71, 2.5e-3)) == pytest.approx(0.2122, abs=5e-5)


@pytest.mark.outside(
    "literature 1.16 (Schlichting) to 1.33, Langhaar 1.28; values from memory",
    quantity="Hagenbach term",
)
def test_term_is_within_the_literature():
    """In brisk laminar flow the term lies within the values of the literature."""
    for number in (400.0, 1000.0, 2000.0):
        assert 1.16 <= float(developing.hagenbach(number)) <= 1.33


@pytest.mark.outside(
    "capillary viscometry, 1.12 rho v2 from a still vessel, from memory", quantity="Hagenbach term"
)
def test_term_from_a_still_tank():
    """With the kinetic head of a still tank the term is that of capillary viscometers."""
    assert 1.0 + float(developing.hagenbach(1500.0)) == pytest.approx(2.24, rel=0.02)


def test_turbulent_flow_has_none():
    """Beyond the transition the term is gone, and it goes without a step."""
    numbers = np.linspace(1000.0, 5000.0, 4001)
    term = developing.hagenbach(numbers)
    assert float(term[-1]) == 0.0
    assert (np.diff(term) <= 0.0).all()
    assert (np.abs(np.diff(term)) < 2e-3).all()


@pytest.mark.outside(
    "boundary layer limit of an inlet, 13.76 sqrt(L / (D Re)), Shah and London, from memory",
    quantity="extra loss of a very short tube",
)
def test_short_tubes():
    """A tube of hardly any length has hardly any extra loss: the share grows as its root."""
    length = np.array([1e-6, 4e-6])
    share = developing.developing_share(1000.0, length, 4e-3)
    x = length / (4e-3 * 1000.0)
    np.testing.assert_allclose(share * 1.25, 13.76 * np.sqrt(x), rtol=0.01)


@given(st.floats(0.0, 1e12), st.floats(0.0, 100.0), st.floats(1e-4, 0.1))
def test_always_finite(number, length, bore):
    """The term and its share are finite for every flow and tube."""
    share = developing.developing_share(number, length, bore)
    assert 0.0 <= share <= 1.0
    assert np.isfinite(developing.hagenbach(number))
