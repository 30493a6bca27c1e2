"""Air and the standard atmosphere against published rows and a second method."""

import numpy as np
import pytest
from fluids import ATMOSPHERE_1976

from plumbing.physics import air, atmosphere

TABLE = "1976 US Standard Atmosphere, evaluated by fluids 1.3.1"


@pytest.mark.outside(TABLE, quantity="standard atmosphere")
@pytest.mark.parametrize(
    ("altitude", "kelvin", "pascal", "density", "sound"),
    [
        (0, 288.150, 101325.00, 1.224999, 340.294),
        (500, 284.900, 95461.29, 1.167273, 338.370),
        (1000, 281.651, 89876.29, 1.111659, 336.435),
        (1500, 278.402, 84559.68, 1.058104, 334.489),
        (2000, 275.154, 79501.42, 1.006553, 332.532),
        (3000, 268.659, 70121.16, 0.909254, 328.584),
        (5000, 255.676, 54048.29, 0.736428, 320.546),
    ],
)
def test_rows(altitude, kelvin, pascal, density, sound):
    """Rows of the standard atmosphere over geometric altitude."""
    assert float(atmosphere.temperature(altitude)) == pytest.approx(kelvin, abs=6e-4)
    assert float(atmosphere.pressure(altitude)) == pytest.approx(pascal, abs=0.02)
    assert float(atmosphere.density(altitude)) == pytest.approx(density, abs=1.5e-6)
    assert float(atmosphere.speed_of_sound(altitude)) == pytest.approx(sound, abs=1e-3)


@pytest.mark.outside(
    "1976 US Standard Atmosphere, table I, values from memory", quantity="printed pressures"
)
@pytest.mark.parametrize(
    ("altitude", "pascal"), [(1000, 8.9876e4), (2000, 7.9501e4), (3000, 7.0121e4)]
)
def test_printed_table(altitude, pascal):
    """The printed table's five digits."""
    assert float(atmosphere.pressure(altitude)) == pytest.approx(pascal, abs=0.6)


@pytest.mark.outside(
    "1976 US Standard Atmosphere: 1.2250 kg/m3 and 1.7894e-5 Pa s at sea level",
    quantity="air at sea level",
)
def test_sea_level():
    """Air at 15 degC and one atmosphere."""
    assert float(air.density(15.0)) == pytest.approx(1.2250, abs=5e-5)
    assert float(air.dynamic_viscosity(15.0)) == pytest.approx(1.7894e-5, abs=5e-10)


def test_equal_to_second_method_over_a_grid():
    """Temperature, pressure, density and viscosity equal the general-purpose library's."""
    altitude = np.linspace(0.0, 11000.0, 56)
    other = [ATMOSPHERE_1976(z) for z in altitude]
    np.testing.assert_allclose(atmosphere.temperature(altitude), [a.T for a in other], rtol=1e-7)
    np.testing.assert_allclose(atmosphere.pressure(altitude), [a.P for a in other], rtol=1e-6)
    np.testing.assert_allclose(atmosphere.density(altitude), [a.rho for a in other], rtol=2e-6)
    celsius = np.array([a.T - 273.15 for a in other])
    np.testing.assert_allclose(air.dynamic_viscosity(celsius), [a.mu for a in other], rtol=1e-6)


def test_held_outside_its_range():
    """Beyond the lowest layer the values of its ends are given, never anything endless."""
    high = atmosphere.pressure([11000.0, 1e9, 1e300])
    assert (high == high[0]).all()
    assert np.isfinite(air.density(-400.0))
