"""Dissolved air against the form of the standard and Henry's law."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from plumbing.physics import dissolved_air as air

FORM = "form of ASTM D2779 evaluated by hand; formula and constants from memory"
HENRY = "Henry's law and the ideal gas, L (p0 - p) / p by hand"


@pytest.mark.outside(FORM, quantity="Ostwald coefficient")
@pytest.mark.parametrize(
    ("gas", "values"),
    [
        ("air", (0.1177, 0.1360, 0.1496, 0.1541, 0.1719)),
        ("nitrogen", (0.0792, 0.0958, 0.1086, 0.1129, 0.1303)),
        ("oxygen", (0.2046, 0.2219, 0.2342, 0.2381, 0.2531)),
    ],
)
def test_ostwald(gas, values):
    """Ostwald coefficients of three gases in kerosene of 800 kg/m3."""
    got = air.ostwald([-20.0, 0.0, 15.0, 20.0, 40.0], 800.0, gas)
    np.testing.assert_allclose(got, values, atol=6e-5)


@pytest.mark.outside("common practice: kerosene holds 0.13 to 0.15 of air", quantity="usual rule")
def test_usual_rule():
    """Within the stated uncertainty, kerosene holds what practice says it holds."""
    value = float(air.ostwald(20.0, 800.0))
    assert 0.9 * value <= 0.15
    assert 1.1 * value >= 0.13


@pytest.mark.outside(
    "definition: the coefficient at 0 degC and 850 kg/m3 is the constant", quantity="reference"
)
@pytest.mark.parametrize(("gas", "constant"), [("air", 0.098), ("nitrogen", 0.069)])
def test_reference_state(gas, constant):
    """At 0 degC and 850 kg/m3 the coefficient is the constant of the gas, to its digits."""
    assert float(air.ostwald(0.0, 850.0, gas)) == pytest.approx(constant, rel=4e-3)


@pytest.mark.outside(HENRY, quantity="gas set free by a fall in pressure")
@pytest.mark.parametrize(
    ("pressure", "held", "ratio"),
    [
        (90000.0, 0.14, 0.017617),
        (90000.0, 0.15, 0.018875),
        (80000.0, 0.14, 0.037319),
        (80000.0, 0.15, 0.039984),
        (70121.0, 0.14, 0.062300),
        (70121.0, 0.15, 0.066750),
        (50000.0, 0.14, 0.143710),
        (50000.0, 0.15, 0.153975),
    ],
)
def test_released_gas(pressure, held, ratio):
    """Gas set free from saturated fuel at lower pressures."""
    got = air.released_volume_ratio(held, 101325.0, pressure)
    assert float(got) == pytest.approx(ratio, abs=1e-6)


@pytest.mark.outside(HENRY, quantity="void fraction")
@pytest.mark.parametrize(("pressure", "void"), [(80000.0, 0.038447), (70121.0, 0.062573)])
def test_void(pressure, void):
    """The void fraction counts the gas in the whole."""
    assert float(air.void_fraction(0.15, 101325.0, pressure)) == pytest.approx(void, abs=1e-6)


@pytest.mark.outside(HENRY + ", 14 % held", quantity="free gas by suction")
@pytest.mark.parametrize(("suction", "share"), [(5e3, 0.007), (10e3, 0.015), (20e3, 0.034)])
def test_gas_by_suction(suction, share):
    """Free gas at usual suctions."""
    got = air.released_volume_ratio(0.14, 101325.0, 101325.0 - suction)
    assert float(got) == pytest.approx(share, abs=6e-4)


@given(st.floats(-100.0, 200.0), st.floats(-1e5, 1e6), st.floats(-1e5, 1e6))
def test_always_finite(celsius, before, after):
    """No temperature and no pressure gives anything but a finite share from 0 to 1."""
    held = air.ostwald(celsius, 800.0)
    void = air.void_fraction(held, before, after)
    assert np.isfinite(held)
    assert 0.0 <= void <= 1.0
