"""Fittings and bore changes against published coefficients and a second method."""

import fluids.fittings
import numpy as np
import pytest
from fluids.fittings import Darby, Darby3K, Hooper, Hooper2K
from fluids.friction import Churchill_1977

from plumbing.physics import bores, fittings

INCH = 0.0254
TWO_K = "Hooper, Chem. Eng. 24 Aug 1981 p. 97, as tabulated in fluids 1.3.1"
THREE_K = "Silverberg and Darby, Chem. Eng. July 1999 p. 101, as tabulated in fluids 1.3.1"
STEPS = "Hooper, Chem. Eng. 7 Nov 1988 p. 89, evaluated by fluids 1.3.1"


def high(name, number, bore):
    """Two-K coefficient of a named fitting."""
    k1, _, k = fittings.coefficients(name, bore)
    return k1 / number + k


def low(name, number, bore):
    """Three-K coefficient of a named fitting."""
    k1, k, _ = fittings.coefficients(name, bore)
    return k1 / number + k


PRINTED = {
    "elbow-90": (
        "Elbow, 90°, Standard (R/D = 1), Screwed",
        "Elbow, 90°, threaded, standard, (r/D = 1)",
    ),
    "elbow-45": (
        "Elbow, 45°, Standard (R/D = 1), All types",
        "Elbow, 45°, threaded standard, (r/D = 1)",
    ),
    "tee-branch": (
        "Elbow, Used as, Standard, Screwed",
        "Tee, Through-branch, (as elbow), threaded, (r/D = 1)",
    ),
    "tee-run": (
        "Tee, Run, Screwed",
        "Tee, Run-through, threaded, (r/D = 1)",
    ),
    "valve-ball": (
        "Valve, Gate, Full line size, Beta = 1",
        "Valve, Ball valve, standard, β = 1",
    ),
    "valve-diaphragm": (
        "Valve, Diaphragm, Dam type",
        "Valve, Diaphragm, dam type",
    ),
    "check-swing": (
        "Valve, Check, Swing",
        "Valve, Swing check",
    ),
}


@pytest.mark.outside(TWO_K, quantity="two-K constants")
@pytest.mark.outside(THREE_K, quantity="three-K constants")
@pytest.mark.parametrize("name", fittings.names())
@pytest.mark.parametrize("bore", [2e-3, 4e-3, 6e-3, 0.05])
def test_every_fitting_equals_the_second_method(name, bore):
    """Both ends of the band are the general-purpose library's, for every name, size and flow."""
    first, second = PRINTED[name]
    (k1, k_inf), (_, k_i, k_d) = Hooper[first], Darby[second]
    for number in (1.0, 100.0, 5000.0):
        two = Hooper2K(Di=bore / INCH, Re=number, K1=k1, Kinfty=k_inf)
        three = Darby3K(NPS=bore / INCH, Re=number, K1=k1, Ki=k_i, Kd=k_d)
        assert low(name, number, bore) == pytest.approx(min(two, three), rel=1e-12)
        assert high(name, number, bore) == pytest.approx(max(two, three), rel=1e-12)


@pytest.mark.outside(TWO_K + ", evaluated at Re 1000", quantity="fittings of 4 and 2.5 mm bore")
@pytest.mark.parametrize(
    ("name", "at_4", "at_25"),
    [
        ("elbow-90", 3.740, 5.264),
        ("tee-run", 0.935, 1.316),
        ("tee-branch", 5.645, 8.312),
    ],
)
def test_small_bores(name, at_4, at_25):
    """Two-K coefficients in tubes of model size."""
    assert high(name, 1000, 4e-3) == pytest.approx(at_4, abs=5e-4)
    assert high(name, 1000, 2.5e-3) == pytest.approx(at_25, abs=6e-4)


@pytest.mark.outside(THREE_K + ", evaluated at Re 1000", quantity="fittings of 4 mm bore")
@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("elbow-90", 1.9150),
        ("tee-run", 0.9248),
        ("tee-branch", 2.6823),
        ("valve-ball", 0.4206),
    ],
)
def test_small_bores_low_bound(name, value):
    """Three-K coefficients in tubes of model size."""
    assert low(name, 1000, 4e-3) == pytest.approx(value, abs=5e-5)


@pytest.mark.outside(
    "entrance 0.5 flush and 1.0 inward, exit 1.0, turbulent; four sources in fluids 1.3.1",
    quantity="entrances and exits",
)
def test_entrances_and_exits():
    """The band of a mouth holds what entrances and exits are said to lose."""
    _, least, most = fittings.MOUTH
    assert (least, most) == (0.5, 1.0)


def test_loss_of_a_fitting():
    """The loss is the coefficient times the dynamic pressure, and the slope its derivative."""
    flow, bore, rho, mu = 8e-6, 4e-3, 800.0, 1.4e-3
    speed = flow / (np.pi / 4 * bore**2)
    coefficient = 800.0 / (rho * speed * bore / mu) + 1.5
    drop, slope = fittings.fitting_loss(flow, 800.0, 1.5, bore, rho, mu)
    assert float(drop) == pytest.approx(coefficient * 0.5 * rho * speed**2, rel=1e-12)
    near = fittings.fitting_loss(flow * 1.000001, 800.0, 1.5, bore, rho, mu)[0]
    assert float(slope) == pytest.approx(float(near - drop) / (flow * 1e-6), rel=1e-5)


@pytest.mark.outside(STEPS + "; Rennels 2012", quantity="sudden contraction")
@pytest.mark.parametrize(
    ("beta", "rennels", "laminar", "turbulent"),
    [
        (0.25, 0.556915, 1.354687, 0.570600),
        (0.40, 0.530127, 1.325184, 0.511258),
        (0.50, 0.495580, 1.275000, 0.456480),
        (0.625, 0.419816, 1.152480, 0.370890),
        (0.75, 0.294370, 0.929687, 0.266280),
        (0.90, 0.093583, 0.467704, 0.115642),
    ],
)
def test_contraction(beta, rennels, laminar, turbulent):
    """Sudden contractions, on the small bore; a third author lies within the laminar band."""
    assert float(bores.contraction(1e3 / beta, beta)[0]) == pytest.approx(laminar, abs=1e-6)
    assert float(bores.contraction(1e5 / beta, beta)[0]) == pytest.approx(turbulent, abs=1e-4)
    assert float(bores.contraction_least(beta)) - 0.002 < rennels < laminar


@pytest.mark.outside(
    "Crane TP 410, worked values printed in fluids 1.3.1", quantity="sudden contraction, low bound"
)
@pytest.mark.parametrize(
    ("small", "large", "printed"), [(2.0, 3.0, 0.27778), (52.5, 77.9, 0.272902)]
)
def test_least_contraction(small, large, printed):
    """The low bound is Crane's contraction of 180 degrees."""
    assert float(bores.contraction_least(small / large)) == pytest.approx(printed, abs=5e-6)
    crane = fluids.fittings.contraction_conical_Crane(Di1=large, Di2=small, angle=180.0)
    assert float(bores.least_coefficient(large, small)) == pytest.approx(crane, rel=1e-12)


@pytest.mark.outside(STEPS + "; Borda", quantity="sudden expansion")
@pytest.mark.parametrize(
    ("beta", "borda", "laminar"),
    [
        (0.25, 0.878906, 1.992188),
        (0.40, 0.705600, 1.948800),
        (0.50, 0.562500, 1.875000),
        (0.625, 0.371338, 1.694824),
        (0.75, 0.191406, 1.367188),
        (0.90, 0.036100, 0.687800),
    ],
)
def test_expansion(beta, borda, laminar):
    """Sudden expansions, on the small bore: Borda's is the low bound."""
    assert float(bores.expansion_least(beta)) == pytest.approx(borda, abs=1e-6)
    assert float(bores.least_coefficient(beta, 1.0)) == pytest.approx(borda, abs=1e-6)
    assert float(bores.expansion(1000.0, beta)[0]) == pytest.approx(laminar, abs=1e-6)


@pytest.mark.outside(
    "Hagenbach's 2.24 heads from a still tank, value from memory; kinetic energy of a parabolic "
    "profile by integration",
    quantity="laminar bore change, high bound",
)
def test_high_bound_counts_a_developed_profile():
    """In: all that a profile needs to take shape. Out: the whole energy of that profile."""
    viscous = 160.0 / (2000.0 * 0.01)
    flat = 1.0
    assert float(bores.contraction(2000.0, 0.01)[0]) - viscous + flat == pytest.approx(
        2.24, rel=0.02
    )
    middle = (np.arange(2000) + 0.5) / 2000.0
    energy = np.sum((2.0 * (1.0 - middle**2)) ** 3 * 2.0 * middle) / 2000.0
    assert float(bores.expansion(2000.0, 0.01)[0]) == pytest.approx(energy, rel=1e-6)


@pytest.mark.outside(
    "momentum balance of a widening, profiles flat and parabolic, worked by hand",
    quantity="laminar expansion within its band",
)
@pytest.mark.parametrize("beta", [0.5, 0.6, 0.7, 0.75, 0.8])
def test_momentum_balance_lies_within_the_band_of_an_expansion(beta):
    """A flat profile that widens into a parabolic one regains 2 b^2 (1 - 4/3 b^2) heads."""
    lost = 1.0 - beta**4 - 2.0 * beta**2 * (1.0 - 4.0 / 3.0 * beta**2)
    assert float(bores.expansion_least(beta)) < lost < float(bores.expansion(1000.0, beta)[0])


@pytest.mark.outside(
    "common practice: 1.0 to 1.5 heads for a barb at its own bore", quantity="barb of 3 in 4 mm"
)
@pytest.mark.parametrize("number", [500.0, 1000.0, 2000.0])
def test_the_middle_of_a_barb_is_what_practice_counts(number):
    """In and out of a 3 mm barb in 4 mm tube: the middle of the band is within practice."""
    rho, mu, wide, narrow = 800.0, 1.4e-3, 4e-3, 3e-3
    flow = number * np.pi / 4.0 * narrow * mu / rho
    head = 0.5 * rho * (flow / (np.pi / 4.0 * narrow**2)) ** 2
    into = bores.change_band(flow, wide, narrow, rho, mu)
    out = bores.change_band(flow, narrow, wide, rho, mu)
    low, high = (float(a + b) / head for a, b in zip(into, out, strict=True))
    assert low == pytest.approx(0.41, abs=0.01)
    assert 1.0 < 0.5 * (low + high) < 1.5


@pytest.mark.parametrize("beta", [0.3, 0.5, 0.7, 0.9])
def test_bore_changes_equal_the_second_method(beta):
    """Away from the stretch where we hold the laminar drop, both laws are the library's."""
    small, large = beta * 0.01, 0.01
    for number in (1.0, 50.0, 1000.0, 2400.0, 1e5, 1e6):
        factor = Churchill_1977(number, 0.0)
        contraction = fluids.fittings.contraction_sharp(
            large, small, fd=factor, Re=number, method="Hooper"
        )
        ours, _ = bores.contraction(number / beta, beta)
        assert float(ours) == pytest.approx(contraction, rel=1e-9)
        expansion = fluids.fittings.diffuser_sharp(
            small, large, fd=factor, Re=number, method="Hooper"
        )
        assert float(bores.expansion(number, beta)[0]) == pytest.approx(expansion, rel=1e-9)


def test_no_step_no_loss():
    """Where the bore does not change nothing is lost, at either end of the band."""
    for drop in bores.change_band(np.array([-1e-5, 0.0, 1e-5]), 4e-3, 4e-3, 800.0, 1.4e-3):
        assert (drop == 0.0).all()


def test_unknown_fitting():
    """An unknown name is refused."""
    with pytest.raises(KeyError):
        fittings.coefficients("no such fitting", 4e-3)
