"""Curved tube against published ratios and a second method."""

import numpy as np
import pytest
from fluids.friction import (
    helical_laminar_fd_White,
    helical_transition_Re_Ito,
    helical_turbulent_fd_Mori_Nakayama,
)

from plumbing.physics import bends
from plumbing.physics.friction import laminar_excess, reynolds, tube_loss

DEANS = (20, 50, 100, 200, 500, 1000, 2000)


@pytest.mark.outside(
    "White 1929, evaluated by fluids 1.3.1", quantity="curved over straight friction, White"
)
@pytest.mark.parametrize(
    ("dean", "ratio"),
    list(zip(DEANS, (1.03484, 1.24594, 1.53023, 1.94312, 2.75250, 3.63984, 4.85771), strict=True)),
)
def test_white(dean, ratio):
    """White's ratio at round Dean numbers."""
    assert float(bends.white(dean)[0]) == pytest.approx(ratio, abs=6e-6)


@pytest.mark.outside(
    "worked values printed in fluids 1.3.1, Re 250, bore 0.02 m, bend 0.1 m",
    quantity="Darcy factor in curved tube",
)
def test_printed_example():
    """The printed example of White's law comes out."""
    ratio, _ = bends.white(bends.dean(250.0, 0.2))
    assert 64 / 250 * float(ratio) == pytest.approx(0.406328182, rel=1e-5)


@pytest.mark.outside(
    "Ito 1959, worked value printed in fluids 1.3.1", quantity="critical Reynolds number"
)
@pytest.mark.parametrize(
    ("curvature", "number"), [(1 / 7, 10729.9728), (0.05, 7668.3), (4 / 60, 8407.8), (0.2, 11949.8)]
)
def test_transition(curvature, number):
    """Curved tube stays laminar far beyond a straight one."""
    assert float(bends.critical_reynolds(curvature)) == pytest.approx(number, rel=1e-5)


@pytest.mark.outside(
    "White 1929, evaluated by fluids 1.3.1", quantity="Darcy factor in usual bends"
)
@pytest.mark.parametrize(
    ("number", "curvature", "factor"),
    [
        (500, 0.05, 0.203164),
        (1000, 0.05, 0.129529),
        (1500, 4 / 60, 0.106274),
        (2000, 0.05, 0.084299),
    ],
)
def test_usual_bends(number, curvature, factor):
    """Friction in bends of the sizes used in models."""
    ratio, _ = bends.bend_ratio(number, curvature)
    assert 64 / number * float(ratio) == pytest.approx(factor, rel=2e-5)


def test_equal_to_second_method_over_a_grid():
    """Both laws equal the general-purpose library's over numbers and curvatures."""
    for c in (0.01, 0.05, 0.1, 0.3):
        numbers = np.geomspace(20.0, 2000.0, 40)
        dean = bends.dean(numbers, c)
        straight = 64.0 / numbers
        white = [helical_laminar_fd_White(re, c, 1.0) for re in numbers]
        np.testing.assert_allclose(bends.white(dean)[0] * straight, white, rtol=1e-6)
        assert float(bends.critical_reynolds(c)) == pytest.approx(
            helical_transition_Re_Ito(c, 1.0), rel=1e-12
        )
        fast = np.geomspace(9000.0, 1e5, 20)
        turbulent = [helical_turbulent_fd_Mori_Nakayama(re, c, 1.0) for re in fast]
        np.testing.assert_allclose(bends.mori_nakayama_turbulent(fast, c), turbulent, rtol=1e-10)


@pytest.mark.parametrize("number", [0.0, 100.0, 2000.0, 3000.0, 20000.0, 1e6])
def test_straight_tube_is_the_limit(number):
    """A bend of endless radius is straight tube at every Reynolds number."""
    for curvature in (0.0, 1e-7):
        ratio, growth = bends.bend_ratio(number, curvature, 1e-4)
        straight, straight_growth = laminar_excess(number, 1e-4)
        assert float(ratio) == pytest.approx(float(straight), rel=1e-12)
        assert float(growth) == pytest.approx(float(straight_growth), abs=1e-12)


def test_bends_never_help():
    """Curved tube never loses less than straight tube, whatever the flow."""
    flow = np.geomspace(1e-9, 1e-3, 2000)
    for curvature in (0.001, 0.02, 0.1, 0.5):
        number = reynolds(flow, 4e-3, 800.0, 1.4e-3)
        ratio, growth = bends.bend_ratio(number, curvature, 2e-6 / 4e-3)
        each = 128.0 / np.pi * 1.4e-3 * 0.1 / 4e-3**4 * ratio
        bent, slope = each * flow, each * (1.0 + growth)
        straight, _ = tube_loss(flow, 0.1, 4e-3, 2e-6, 800.0, 1.4e-3)
        assert (bent >= straight * (1 - 1e-12)).all()
        assert (np.diff(bent) > 0.0).all()
        assert (bent[1:] / bent[:-1] < 1.03).all()  # Churchill's own transition is that steep
        ahead = np.diff(bent) / np.diff(flow)
        smooth = np.abs(np.diff(np.log(slope))) < 0.02
        np.testing.assert_allclose(slope[:-1][smooth], ahead[smooth], rtol=0.01)


@pytest.mark.parametrize("number", [1e20, 1e40])
def test_absurd_numbers_stay_finite(number):
    """What a solver may try on its way has a ratio and a slope: turbulent, Re^0.8 by its law."""
    ratio, growth = bends.bend_ratio(number, 0.1)
    assert np.isfinite(ratio)
    assert growth == pytest.approx(0.8, abs=0.01)
