"""What must hold for every tube, fitting, bore change and bend."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from plumbing.physics.bends import bend_ratio
from plumbing.physics.bores import change_band, change_loss
from plumbing.physics.fittings import fitting_loss
from plumbing.physics.friction import churchill, reynolds, tube_loss

FLOW = st.floats(-1.0, 1.0)
BORE = st.floats(1e-4, 0.1)
RHO = st.floats(0.1, 2000.0)
MU = st.floats(1e-6, 10.0)


def bend_loss(flow, length, bore, density, viscosity):
    """Loss of a bend ten bores wide by the ratio of its friction to 64/Re, and its slope."""
    ratio, growth = bend_ratio(reynolds(flow, bore, density, viscosity), 0.1, 2e-6 / bore)
    each = 128.0 / np.pi * viscosity * length / bore**4 * ratio
    return each * flow, each * (1.0 + growth)


LAWS = {
    "tube": lambda q, d, rho, mu: tube_loss(q, 0.5, d, 2e-6, rho, mu),
    "fitting": lambda q, d, rho, mu: fitting_loss(q, 800.0, 1.5, d, rho, mu),
    "bend": lambda q, d, rho, mu: bend_loss(q, 0.05, d, rho, mu),
}


@pytest.mark.parametrize("law", LAWS.values(), ids=LAWS)
@given(flow=FLOW, bore=BORE, rho=RHO, mu=MU)
def test_odd_finite_and_growing(law, flow, bore, rho, mu):
    """Every loss is finite, odd in the flow and has a slope above zero."""
    drop, slope = law(flow, bore, rho, mu)
    back, same = law(-flow, bore, rho, mu)
    assert np.isfinite(drop)
    assert np.isfinite(slope)
    assert slope > 0.0
    assert back == -drop
    assert same == slope


@pytest.mark.parametrize("law", LAWS.values(), ids=LAWS)
def test_never_falls_with_flow(law):
    """More flow never costs less, from creeping flow to turbulence."""
    drop, _ = law(np.geomspace(1e-9, 1e-2, 5000), 4e-3, 800.0, 1.4e-3)
    assert (np.diff(drop) > 0.0).all()


@given(flow=FLOW, before=BORE, after=BORE, rho=RHO, mu=MU)
def test_bore_changes(flow, before, after, rho, mu):
    """A bore change is finite, of the flow's sign, and the other kind of change backwards."""
    drop, slope = change_loss(flow, before, after, rho, mu)
    assert np.isfinite(drop)
    assert np.isfinite(slope)
    assert slope >= 0.0
    assert drop * flow >= 0.0
    assert change_loss(-flow, after, before, rho, mu)[0] == pytest.approx(-drop, rel=1e-12)


@given(flow=FLOW, before=BORE, after=BORE, rho=RHO, mu=MU)
def test_band_of_a_bore_change(flow, before, after, rho, mu):
    """Low and high are of the flow's sign, in order, and the other way round backwards."""
    low, high = change_band(flow, before, after, rho, mu)
    assert 0.0 <= low * np.sign(flow) <= high * np.sign(flow)
    assert high == change_loss(flow, before, after, rho, mu)[0]
    assert change_band(-flow, after, before, rho, mu)[0] == -low


@pytest.mark.parametrize("share", [0.0, 0.5, 1.0])
@pytest.mark.parametrize("flow", [1e-7, 3e-6, 9e-6, 2e-5, 1e-4])
def test_a_narrower_barb_is_never_cheaper(flow, share):
    """In and out again, at any place in the band, the loss falls as the barb is opened."""
    bores = np.linspace(0.5e-3, 4e-3, 3000)
    into = change_band(flow, 4e-3, bores, 800.0, 1.4e-3)
    out = change_band(flow, bores, 4e-3, 800.0, 1.4e-3)
    low, high = (one + two for one, two in zip(into, out, strict=True))
    assert (np.diff(low + share * (high - low)) < 0.0).all()


@pytest.mark.parametrize("bores", [(4e-3, 2.5e-3), (2.5e-3, 4e-3), (4e-3, 3.7e-3), (3.7e-3, 4e-3)])
def test_bore_changes_grow(bores):
    """The loss of a bore change never falls as the flow grows, and never jumps."""
    flow = np.geomspace(1e-9, 1e-3, 20000)
    drop, slope = change_loss(flow, *bores, 800.0, 1.4e-3)
    assert (np.diff(drop) >= 0.0).all()
    assert (drop[1:] / drop[:-1] < 1.01).all()
    ahead = np.diff(drop) / np.diff(flow)
    smooth = np.abs(np.diff(np.log(slope))) < 0.05  # leaves out the two corners
    np.testing.assert_allclose(slope[:-1][smooth], ahead[smooth], rtol=0.02)


@given(st.floats(0.0, 1e300), st.floats(0.0, 1e3))
def test_factor_for_any_number(number, rough):
    """The friction factor is finite and above zero for every Reynolds number and wall."""
    factor = churchill(number, rough)
    assert np.isfinite(factor)
    assert factor >= 0.0


@given(BORE, RHO, MU)
def test_no_length(bore, rho, mu):
    """A tube without length loses nothing."""
    drop, slope = tube_loss(1e-5, 0.0, bore, 1e-6, rho, mu)
    assert drop == 0.0
    assert slope == 0.0


@given(st.floats(-1e-3, 1e-3), st.floats(0.01, 5.0))
def test_two_halves_equal_the_whole(flow, length):
    """Two halves of a tube in a row lose what the whole loses."""
    whole, _ = tube_loss(flow, length, 4e-3, 1e-6, 800.0, 1.4e-3)
    half, _ = tube_loss(flow, length / 2, 4e-3, 1e-6, 800.0, 1.4e-3)
    assert 2 * half == pytest.approx(whole, rel=1e-12)
