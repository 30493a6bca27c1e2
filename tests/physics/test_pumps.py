"""Pumps against worked examples."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from plumbing.physics import pumps

FOOT, PSI, POUND_FOOT3 = 0.3048, 6894.757293168, 16.018463373960


@pytest.mark.outside("Crane TP-410 example 7-32: 13.8873 ft", quantity="suction head available")
def test_crane_suction_head():
    """The book's pump over a sump has 13.89 ft left, less than it needs."""
    rho = 62.364 * POUND_FOOT3
    head = pumps.npsh_available(
        (5.0 + 14.696) * PSI, 0.256 * PSI, rho, -25.0 * FOOT, 6.0 * FOOT * rho * 9.80665
    )
    assert float(head) / FOOT == pytest.approx(13.8873, rel=1e-4)
    assert float(head) / FOOT < 20.0


@pytest.mark.outside("net positive suction head by hand", quantity="suction head of kerosene")
def test_kerosene_suction_head():
    """A pump 100 mm over the fuel with 9 kPa of loss has 11.58 m left."""
    head = pumps.npsh_available(101325.0, 700.0, 800.0, -0.10, 9000.0)
    assert float(head) == pytest.approx(11.57894, abs=1e-5)


@pytest.mark.outside("Crane TP-410 example 7-33", quantity="affinity laws")
def test_affinity():
    """A pump slowed from 3500 to 1700 rpm gives what the book says."""
    flow, head, power = pumps.scaled_by_speed(400.0, 126.0, 17.5, 1700 / 3500)
    assert float(flow) == pytest.approx(194.2857, abs=1e-4)
    assert float(head) == pytest.approx(29.72571, abs=1e-5)
    assert float(power) == pytest.approx(2.005306, abs=1e-6)


@pytest.mark.outside("Wilson's slip form by hand, from memory", quantity="gear pump flow")
@pytest.mark.parametrize(("bar", "litres"), [(0, 1.5), (1, 1.49649), (3, 1.48947), (6, 1.47894)])
def test_slip(bar, litres):
    """A gear pump of 0.25 ml a turn at 6000 rpm loses a little to its gaps."""
    flow = pumps.slip_flow(100.0, 0.25e-6, 2.0e-8, bar * 1e5, 1.36e-3)
    assert float(flow) * 6e4 == pytest.approx(litres, abs=6e-6)


@pytest.mark.outside(
    "weight of 0.1, 0.3 and 0.5 m of fuel of 800 kg/m3, arithmetic", quantity="head"
)
@pytest.mark.parametrize(
    ("depth", "pascal", "at_6g"), [(0.1, 784.5, 4707), (0.3, 2353.6, 14122), (0.5, 3922.7, 23536)]
)
def test_static_head(depth, pascal, at_6g):
    """A level over the inlet adds its own height at any load factor."""
    for gravity, expected in ((9.80665, pascal), (6 * 9.80665, at_6g)):
        above = pumps.npsh_available(101325.0, 700.0, 800.0, depth, 0.0, gravity)
        level = pumps.npsh_available(101325.0, 700.0, 800.0, 0.0, 0.0, gravity)
        assert float(above - level) * 800.0 * gravity == pytest.approx(expected, abs=0.6)


def test_curve():
    """A curve is straight between its points, level before and never negative beyond."""
    flow, rise = [2e-5, 0.0, 1e-5], [1e5, 4e5, 3e5]
    got = pumps.pressure_at([-1.0, 0.0, 5e-6, 1.5e-5, 2.2e-5, 1.0], flow, rise)
    np.testing.assert_allclose(got, [4e5, 4e5, 3.5e5, 2e5, 0.6e5, 0.0], rtol=1e-9)
    assert (pumps.pressure_at([0.0, 1.0], [], []) == 0.0).all()


@given(
    st.floats(0.0, 1.0),
    st.lists(st.tuples(st.floats(0.0, 1e-3), st.floats(0.0, 1e7)), max_size=5),
)
def test_always_finite(flow, curve):
    """Any curve, even with points on top of each other, gives a finite pressure."""
    got = pumps.pressure_at(flow, [point[0] for point in curve], [point[1] for point in curve])
    assert np.isfinite(got)
    assert got >= 0.0
