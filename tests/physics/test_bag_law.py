"""The pressure in a collapsing bag, against sums by hand of what practice says of it."""

import numpy as np
import pytest

from plumbing.physics.bags import FOLDS, TAUT, USUAL_COLLAPSE, USUAL_PROOF, bag_pressure
from plumbing.physics.pumps import SUCTION_LIMIT

STAYS, COLLAPSE, PROOF = 0.02, 4e3, 12e3


@pytest.mark.outside("common practice: limp film bears no pressure", quantity="pressure in a bag")
@pytest.mark.parametrize("held", [0.10, 0.2, 0.5, 0.9, 0.99])
def test_limp_bag_has_the_pressure_outside(held):
    """From a tenth to 99 hundredths full the film hangs limp."""
    assert bag_pressure(held, STAYS, COLLAPSE, PROOF) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.outside("worked by hand: (folded part)^2 of 4 kPa", quantity="suction in a bag")
@pytest.mark.parametrize(
    ("held", "suction"),
    [(0.08, 250.0), (0.06, 1000.0), (0.04, 2250.0), (0.03, 3062.5), (0.02, 4e3)],
)
def test_suction_rises_to_the_stated_collapse(held, suction):
    """With 2 % that stay, a quarter, half, three quarters and all of the last 8 % are gone."""
    assert bag_pressure(held, STAYS, COLLAPSE, PROOF) == pytest.approx(-suction)


@pytest.mark.outside("worked by hand: 12 kPa x / (1 - x)", quantity="pressure in a full bag")
@pytest.mark.parametrize(
    ("held", "pressure"), [(0.992, 3e3), (0.995, 12e3), (0.9975, 36e3), (0.998, 48e3)]
)
def test_pressure_rises_when_a_bag_is_filled_too_far(held, pressure):
    """A fifth, half, three quarters and four fifths of the last hundredth are in."""
    assert bag_pressure(held, STAYS, COLLAPSE, PROOF) == pytest.approx(pressure)


@pytest.mark.parametrize("stays", [0.005, 0.02, 0.05])
@pytest.mark.parametrize("collapse", [0.5e3, 5e3, 30e3])
def test_pressure_never_falls_as_a_bag_fills(stays, collapse):
    """More fuel never means less pressure, so that a bag has one answer."""
    pressure = bag_pressure(np.linspace(0.0, 1.0, 20_001), stays, collapse, USUAL_PROOF)
    assert np.isfinite(pressure).all()
    assert (np.diff(pressure) >= 0.0).all()


def test_what_stays_is_kept_against_any_pump():
    """A thousandth below what stays, a bag pulls harder than any fuel pump."""
    assert -bag_pressure(STAYS - 1e-3, STAYS, USUAL_COLLAPSE, PROOF) > 1.2 * SUCTION_LIMIT


def test_shares_fit_into_a_bag():
    """The folds close long before the film is tight, also where much stays."""
    assert 0.05 + FOLDS < 1.0 - TAUT
