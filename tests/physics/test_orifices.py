"""Orifices at low Reynolds number against the published table and a second method."""

import numpy as np
import pytest
from fluids.flow_meter import discharge_coefficient_to_K
from hypothesis import given
from hypothesis import strategies as st

from plumbing.physics import orifices

NUMBERS = (1, 10, 30, 100, 300, 1000, 3000, 10000, 1e5, 1e6)


@pytest.mark.outside(
    "Hollingshead, computed flow, as tabulated in fluids 1.3.1", quantity="discharge coefficient"
)
@pytest.mark.parametrize(
    ("beta", "values"),
    [
        (0.5, (0.233, 0.585, 0.677, 0.702, 0.693, 0.670, 0.639, 0.629, 0.619, 0.615)),
        (0.6, (0.212, 0.568, 0.689, 0.727, 0.719, 0.688, 0.642, 0.624, 0.610, 0.605)),
        (0.7, (0.191, 0.532, 0.696, 0.781, 0.796, 0.765, 0.670, 0.646, 0.623, 0.616)),
    ],
)
def test_table(beta, values):
    """The table's own rows come back, so a restrictor is not simply 0.6."""
    got = orifices.discharge_coefficient(np.array(NUMBERS), beta)
    np.testing.assert_allclose(got, values, atol=1e-12)


def test_loss_equals_second_method():
    """The lasting loss is the library's for the same discharge coefficient."""
    for beta in (0.5, 0.62, 0.7):
        c = float(orifices.discharge_coefficient(1000.0, beta))
        expected = discharge_coefficient_to_K(D=1.0, Do=beta, C=c)
        assert float(orifices.orifice_loss_coefficient(1000.0, beta)) == pytest.approx(expected)


@given(st.floats(0.0, 1e12), st.floats(0.0, 1.0))
def test_always_finite(number, beta):
    """Every flow and hole has a finite loss."""
    assert np.isfinite(orifices.orifice_loss_coefficient(number, beta))
