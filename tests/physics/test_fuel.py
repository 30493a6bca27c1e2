"""Density and viscosity of fuel against published tables and worked examples."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from plumbing.physics import fuel
from plumbing.physics.viscosity import blending_number, viscosity_of_z, walther_z

JET_TABLE = "government volume correction table for jet fuels, 800 at 15 degC, January 2016"
D1250 = "ASTM D1250 1980 form, evaluated by hand; form from memory"
D341 = "ASTM D341, evaluated by hand"


@pytest.mark.outside(JET_TABLE, quantity="volume correction factor")
@pytest.mark.parametrize(
    ("celsius", "factor"),
    [
        (-40, 1.0502),
        (-39, 1.0493),
        (-35, 1.0457),
        (-30, 1.0412),
        (-24, 1.0358),
        (-23, 1.0349),
        (-20, 1.0322),
    ],
)
def test_published_volume_factors(celsius, factor):
    """Cold jet fuel is as dense as the published table says."""
    assert float(fuel.density(celsius, 800.0)) / 800.0 == pytest.approx(factor, abs=5.1e-5)


@pytest.mark.outside(D1250, quantity="density of kerosene")
@pytest.mark.parametrize(
    ("celsius", "density_15", "expected"),
    [
        (-40, 800.0, 840.19),
        (-20, 800.0, 825.74),
        (0, 800.0, 811.10),
        (15, 800.0, 800.00),
        (20, 800.0, 796.28),
        (30, 800.0, 788.80),
        (40, 800.0, 781.29),
        (20, 775.0, 770.72),
        (40, 775.0, 753.45),
    ],
)
def test_densities(celsius, density_15, expected):
    """Densities in the jet and the transition group."""
    assert float(fuel.density(celsius, density_15)) == pytest.approx(expected, abs=0.006)


@pytest.mark.outside(
    "expansion coefficient 594.5418 / 800^2 per degC, table 54B; constant from memory",
    quantity="expansion of kerosene",
)
def test_expansion_coefficient():
    """Near 15 degC kerosene expands by the coefficient of the metric table."""
    rise = float(fuel.density(14.5, 800.0) - fuel.density(15.5, 800.0)) / 800.0
    assert rise == pytest.approx(9.28972e-4, rel=3e-3)


@pytest.mark.outside("definition of the base temperature", quantity="density at 15 degC")
@given(st.floats(650.0, 1050.0))
def test_base_density_comes_back(density_15):
    """At 15 degC the density is the one given, in every product group."""
    assert float(fuel.density(15.0, density_15)) == pytest.approx(density_15, rel=1e-12)


def test_groups_meet():
    """Density runs on without a step where one product group ends and the next begins."""
    base = np.linspace(700.0, 900.0, 4001)
    for celsius in (-40.0, 40.0):
        steps = np.diff(fuel.density(celsius, base))
        assert (steps > 0.5 * 0.05).all()  # the transition group is the steepest
        assert (steps < 1.3 * 0.05).all()


@pytest.mark.outside(
    "published worked example of ASTM D341 with T = t + 273, Z = nu + 0.7: nu(80) = 8.5",
    quantity="viscosity line",
)
def test_published_viscosity_line():
    """An oil of 32 at 40 degC and 5.4 at 100 degC has the printed line."""
    a, b = fuel.walther_fit(40, 32e-6, 100, 5.4e-6, zero=273.0)
    assert float(a) == pytest.approx(9.5259, abs=5e-5)
    assert float(b) == pytest.approx(3.7449, abs=5e-5)
    assert float(fuel.walther_viscosity(80, a, b, zero=273.0)) == pytest.approx(8.5e-6, abs=5e-8)


@pytest.mark.outside(D341, quantity="viscosity line with the exact ice point")
def test_viscosity_line_from_the_exact_ice_point():
    """With 273.15 the line moves a little and the value between hardly."""
    a, b = fuel.walther_fit(40, 32e-6, 100, 5.4e-6)
    assert float(a) == pytest.approx(9.530815, abs=1e-5)
    assert float(b) == pytest.approx(3.746578, abs=1e-5)
    assert float(fuel.walther_viscosity(80, a, b)) == pytest.approx(8.53321e-6, rel=1e-5)


@pytest.mark.outside(D341, quantity="Z and its inverse below 2 mm2/s")
@pytest.mark.parametrize(
    ("nu", "z", "back"),
    [
        (0.5, 1.280661, 0.500055),
        (1.0, 1.721928, 0.999949),
        (1.5, 2.204619, 1.500142),
        (2.0, 2.700754, 2.000172),
        (4.0, 4.700000, 4.000000),
    ],
)
def test_full_form(nu, z, back):
    """The full form of Z and the published inverse, at low viscosity."""
    assert float(walther_z(nu * 1e-6)) == pytest.approx(z, abs=1e-6)
    assert float(viscosity_of_z(walther_z(nu * 1e-6))) == pytest.approx(back * 1e-6, abs=1e-12)


@pytest.mark.outside(D341, quantity="viscosity of kerosene over temperature")
@pytest.mark.parametrize(
    ("celsius", "nu"), [(-40, 9.074), (0, 2.336), (15, 1.687), (20, 1.534), (30, 1.288)]
)
def test_kerosene_viscosity(celsius, nu):
    """A kerosene of 4.10 at -20 degC and 1.10 at 40 degC, in between and beyond."""
    a, b = fuel.walther_fit(-20, 4.10e-6, 40, 1.10e-6)
    assert float(a) == pytest.approx(10.75168, abs=1e-5)
    assert float(b) == pytest.approx(4.54293, abs=1e-5)
    assert float(fuel.walther_viscosity(celsius, a, b)) == pytest.approx(nu * 1e-6, rel=4e-4)


@pytest.mark.outside(
    "Refutas' blending number, Maples, evaluated by hand", quantity="blending number"
)
@pytest.mark.parametrize(
    ("nu", "number"),
    [
        (1.0, 3.251760),
        (1.5, 8.317738),
        (2.0, 11.399236),
        (4.5, 18.408407),
        (8.0, 22.266675),
        (25.0, 28.107246),
        (50.0, 30.859024),
        (100.0, 33.196155),
    ],
)
def test_blending_numbers(nu, number):
    """Blending numbers at round viscosities."""
    assert float(blending_number(nu * 1e-6)) == pytest.approx(number, abs=1e-6)


@pytest.mark.outside("Refutas' rule on mass, evaluated by hand", quantity="viscosity of a mix")
@pytest.mark.parametrize(
    ("volume", "mass", "nu"), [(0.05, 0.0617284, 1.812917), (0.03, 0.0372208, 1.723824)]
)
def test_mix(volume, mass, nu):
    """Kerosene of 1.6 with oil of 50, five and three per cent by volume."""
    oil = fuel.Liquid(
        density_15=1000.0, cold_celsius=20, nu_cold=50e-6, warm_celsius=40, nu_warm=25e-6
    )
    base = fuel.Liquid(
        density_15=800.0, cold_celsius=0, nu_cold=2.4e-6, warm_celsius=20, nu_warm=1.6e-6
    )
    blend = fuel.Blend(fuel=base, oil=oil, oil_share=volume)
    assert blend.oil_mass_share == pytest.approx(mass, abs=5e-8)
    assert float(fuel.refutas(1.6e-6, 50e-6, mass)) == pytest.approx(nu * 1e-6, rel=1e-6)
    assert float(blend.properties(20.0)[1]) == pytest.approx(nu * 1e-6, rel=2e-4)


@pytest.mark.outside("ideal volumes, 0.95 x 800 + 0.05 x 1000 = 810", quantity="density of a mix")
def test_mixed_density():
    """Volumes add: five per cent of oil makes 810 of 800."""
    oil = fuel.Liquid(
        density_15=1000.0, cold_celsius=40, nu_cold=25e-6, warm_celsius=100, nu_warm=5e-6
    )
    base = fuel.Liquid(
        density_15=800.0, cold_celsius=-20, nu_cold=4e-6, warm_celsius=40, nu_warm=1.1e-6
    )
    blend = fuel.Blend(fuel=base, oil=oil, oil_share=0.05)
    assert blend.density_15 == pytest.approx(810.0)
    assert float(blend.properties(15.0)[0]) == pytest.approx(810.0, rel=1e-12)


def plain(name):
    """A usual fuel without oil."""
    return fuel.Blend(fuel=fuel.liquid(name), oil=fuel.liquid("turbine-oil"))


@pytest.mark.outside(
    "Jet A-1 limits: 775 to 840 kg/m3 at 15 degC, 8 mm2/s at -20 degC (DEF STAN 91-091)",
    quantity="limits of Jet A-1",
)
def test_kerosene_is_jet_fuel():
    """The usual kerosene without oil keeps within the specification of Jet A-1."""
    rho, nu = plain("kerosene").properties(np.array([15.0, -20.0]))
    assert 775.0 <= rho[0] <= 840.0
    assert nu[1] <= 8.0e-6


@pytest.mark.outside("EN 590 limits: 820 to 845 kg/m3, 2.00 to 4.50 mm2/s", quantity="EN 590")
def test_diesel_is_road_diesel():
    """The usual diesel keeps within EN 590."""
    rho, nu = plain("diesel").properties(np.array([15.0, 40.0]))
    assert 820.0 <= rho[0] <= 845.0
    assert 2.0e-6 <= nu[1] <= 4.5e-6


@pytest.mark.outside(
    "n-decane and n-dodecane at 20 degC, reference equations: 23.86 and 25.39 mN/m",
    quantity="surface tension",
)
def test_surface_tension_near_pure_liquids():
    """Kerosene's surface tension is that of the paraffins it is made of, to a tenth."""
    assert float(fuel.surface_tension(20.0)) == pytest.approx(25.39e-3, rel=0.1)
    assert float(fuel.surface_tension(20.0)) == pytest.approx(23.86e-3, rel=0.1)
    fall = float(fuel.surface_tension(0.0) - fuel.surface_tension(40.0))
    assert fall == pytest.approx((27.27 - 23.58) * 1e-3, rel=0.01)


def test_one_temperature_is_not_a_line():
    """Two viscosities at the same temperature are refused."""
    with pytest.raises(ValueError, match="different temperatures"):
        fuel.walther_fit(20, 1e-6, 20, 2e-6)


@given(
    st.floats(-60.0, 120.0), st.floats(100.0, 3000.0), st.floats(1e-7, 1e-2), st.floats(0.0, 1.0)
)
def test_always_finite(celsius, density_15, nu, share):
    """Every fuel the layout file accepts has finite properties above zero."""
    base = fuel.Liquid(
        density_15=density_15, cold_celsius=-20, nu_cold=nu, warm_celsius=40, nu_warm=0.5 * nu
    )
    blend = fuel.Blend(fuel=base, oil=fuel.liquid("turbine-oil"), oil_share=share)
    rho, mixed = blend.properties(celsius)
    assert np.isfinite(rho)
    assert np.isfinite(mixed)
    assert rho > 0.0
    assert mixed > 0.0
