"""Losses of branches, held value by value to the `fluids` library and to formulas by hand."""

import fluids
import numpy as np
import pytest

from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.losses import Moving, branch_loss, compile_losses
from plumbing.physics.bends import bend_ratio
from plumbing.physics.bores import change_loss, least_coefficient
from plumbing.physics.friction import tube_loss

from .networks import OUTSIDE, circuit

RHO, MU = 800.0, 1.44e-3
FLOWS = np.geomspace(1e-8, 3e-5, 25)


def price(flow=FLOWS, forward=True, rho=RHO, mu=MU, band=1.0, dirt=1.0, **elements):
    """Loss and slope of one branch of the given elements at several flows, shape (flows,)."""
    network = circuit({"a": OUTSIDE, "b": OUTSIDE}, {"line": ("a", "b")}, **elements)
    conditions = Conditions.of(network, band=band, dirt=dirt)
    column = np.ones((len(flow), 1))
    moving = Moving(flow[:, None], np.full((len(flow), 1), forward), rho * column, mu * column)
    loss, slope = branch_loss(compile_losses(network), conditions, moving)
    return loss[:, 0], slope[:, 0]


def reynolds(bore):
    """Reynolds numbers of FLOWS."""
    return 4 * RHO * FLOWS / (np.pi * bore * MU)


def heads(bore):
    """Velocity pressures of FLOWS."""
    return 0.5 * RHO * (FLOWS / (np.pi / 4 * bore**2)) ** 2


@pytest.mark.outside("fluids 1.3.1, friction.Churchill_1977", quantity="tube loss")
@pytest.mark.parametrize(("bore", "rough"), [(2e-3, 0.0), (4e-3, 1.5e-6), (6e-3, 3e-5)])
def test_tubes_agree_with_fluids(bore, rough):
    """Darcy-Weisbach with Churchill's factor at every Reynolds number from 1 to 13 000."""
    loss, _ = price(tubes={"line": [(0.7, bore, rough)]})
    factor = [fluids.friction.Churchill_1977(re, rough / bore) for re in reynolds(bore)]
    np.testing.assert_allclose(loss, np.array(factor) * 0.7 / bore * heads(bore), rtol=1e-9)


@pytest.mark.outside("fluids 1.3.1, Hooper2K with K1 800, Kinf 0.4", quantity="fitting loss")
def test_fittings_agree_with_fluids():
    """Two-K in the tube's own bore, the size term inside the high bound."""
    bore = 4e-3
    high = 0.4 * (1 + 0.0254 / bore)
    loss, _ = price(fittings={"line": [(800.0, 0.1, high, bore)]})
    k = [fluids.fittings.Hooper2K(bore / 0.0254, re, K1=800.0, Kinfty=0.4) for re in reynolds(bore)]
    np.testing.assert_allclose(loss, np.array(k) * heads(bore), rtol=1e-9)


@pytest.mark.outside("fluids 1.3.1, Hooper's sharp contraction, laminar", quantity="step loss")
def test_contractions_agree_with_fluids():
    """Up to Re 2500 in the larger bore; the coefficient refers to the smaller one."""
    loss, _ = price(changes={"line": [(6e-3, 3e-3)]})
    laminar = reynolds(6e-3) < 2500
    k = [
        fluids.fittings.contraction_sharp(6e-3, 3e-3, Re=re, fd=0.03, method="Hooper")
        for re in reynolds(6e-3)[laminar]
    ]
    np.testing.assert_allclose(loss[laminar], np.array(k) * heads(3e-3)[laminar], rtol=1e-9)


@pytest.mark.outside("fluids 1.3.1, Hooper's sharp expansion, laminar", quantity="step loss")
def test_expansions_agree_with_fluids_when_a_contraction_is_taken_backwards():
    """Up to Re 4000 in the smaller bore."""
    loss, _ = price(forward=False, changes={"line": [(6e-3, 3e-3)]})
    laminar = reynolds(3e-3) < 4000
    k = [
        fluids.fittings.diffuser_sharp(3e-3, 6e-3, Re=re, fd=0.03, method="Hooper")
        for re in reynolds(3e-3)[laminar]
    ]
    np.testing.assert_allclose(loss[laminar], np.array(k) * heads(3e-3)[laminar], rtol=1e-9)


@pytest.mark.outside(
    "fluids 1.3.1: Crane's contraction of 180 degrees, Borda's expansion",
    quantity="step loss, low bound",
)
@pytest.mark.parametrize("forward", [True, False])
def test_low_bound_of_bore_changes_agrees_with_fluids(forward):
    """At every Reynolds number, several changes in one branch, taken either way."""
    steps = [(6e-3, 3e-3), (3e-3, 4e-3), (6e-3, 3e-3)]
    loss, slope = price(forward=forward, band=0.0, changes={"line": steps})
    expected = 0.0
    for before, after in steps if forward else [step[::-1] for step in steps]:
        k = (
            fluids.fittings.contraction_conical_Crane(before, after, angle=180.0)
            if before > after
            else fluids.fittings.diffuser_sharp(before, after, method="Rennels")
        )
        expected = expected + k * heads(3e-3)
    np.testing.assert_allclose(loss, expected, rtol=1e-9)
    np.testing.assert_allclose(slope, 2.0 * expected / FLOWS, rtol=1e-9)


@pytest.mark.parametrize("forward", [True, False])
def test_bore_changes_are_priced_between_their_bounds(forward):
    """Everywhere in the band the loss is that share of the way from low to high."""
    changes = {"line": [(6e-3, 3e-3), (3e-3, 4e-3)]}
    low, mid, high = (price(forward=forward, band=k, changes=changes) for k in (0.0, 0.3, 1.0))
    for least, between, most in zip(low, mid, high, strict=True):
        np.testing.assert_allclose(between, 0.7 * least + 0.3 * most, rtol=1e-12)
    assert (low[0] < high[0]).all()


def test_filters_follow_their_own_law():
    """Dirt times (linear mu q + quadratic rho q squared)."""
    loss, _ = price(dirt=2.5, filters={"line": [(3e11, 2e10)]})
    np.testing.assert_allclose(loss, 2.5 * (3e11 * MU * FLOWS + 2e10 * RHO * FLOWS**2), rtol=1e-12)


def test_a_branch_costs_what_its_elements_cost_one_by_one():
    """The sum over single elements priced by the physics functions, many in one branch."""
    tubes = [(0.3, 4e-3, 1e-6), (0.2, 4e-3, 1e-6), (0.1, 2.5e-3), (0.4, 4e-3, 1e-6, 0.0, 0.1, 0.08)]
    loss, slope = price(
        tubes={"line": tubes},
        fittings={"line": [(800, 0.2, 2.0, 4e-3), (300, 0.1, 0.4, 2.5e-3)]},
        changes={"line": [(4e-3, 2.5e-3), (2.5e-3, 4e-3), (4e-3, 2.5e-3)]},
        band=0.25,
    )
    expected = sum(
        np.array(tube_loss(FLOWS, length, bore, rough, RHO, MU))
        for length, bore, rough in [(0.8, 4e-3, 1e-6), (0.1, 2.5e-3, 0.0)]
    )
    ratio, growth = bend_ratio(reynolds(4e-3), 4e-3 / 0.08, 1e-6 / 4e-3)
    poiseuille = 128.0 / np.pi * MU * 0.1 / 4e-3**4 * ratio
    expected += np.array([poiseuille * FLOWS, poiseuille * (1.0 + growth)])
    for before, after in [(4e-3, 2.5e-3), (2.5e-3, 4e-3), (4e-3, 2.5e-3)]:
        low = least_coefficient(before, after) * heads(min(before, after))
        high = np.array(change_loss(FLOWS, before, after, RHO, MU))
        expected += 0.75 * np.array([low, 2.0 * low / FLOWS]) + 0.25 * high
    for k1, k, bore in [(800, 0.2 + 0.25 * 1.8, 4e-3), (300, 0.1 + 0.25 * 0.3, 2.5e-3)]:
        re = reynolds(bore)
        expected[0] += (k1 / re + k) * heads(bore)
        expected[1] += (k1 / re + 2 * k) * heads(bore) / FLOWS
    np.testing.assert_allclose(loss, expected[0], rtol=1e-12)
    np.testing.assert_allclose(slope, expected[1], rtol=1e-12)


def test_developing_flow_costs_its_velocity_heads_in_laminar_flow_and_never_falls():
    """1.28 heads more below Re 2100; beyond, the loss stays where it was."""
    with_entry, slope = price(tubes={"line": [(0.1, 4e-3, 0.0, 1.28)]})
    without, _ = price(tubes={"line": [(0.1, 4e-3)]})
    extra, laminar = with_entry - without, reynolds(4e-3) < 2100
    np.testing.assert_allclose(extra[laminar], 1.28 * heads(4e-3)[laminar], rtol=1e-9)
    assert np.ptp(extra[~laminar]) < 1e-9 * extra.max()
    assert (slope >= 0).all()


def test_the_slope_is_the_derivative_of_the_loss():
    """Central differences agree away from the ends of the laminar laws."""
    elements = dict(
        tubes={"line": [(0.5, 3e-3, 1.5e-6, 1.2), (0.2, 4e-3, 0.0, 0.0, 0.2, 0.1)]},
        fittings={"line": [(800, 0.2, 2.0, 4e-3)]},
        changes={"line": [(3e-3, 4e-3)]},
        filters={"line": [(1e11, 1e10)]},
    )
    _, slope = price(**elements)
    step = 1e-6
    above, below = (
        price(FLOWS * (1 + step), **elements)[0],
        price(FLOWS * (1 - step), **elements)[0],
    )
    np.testing.assert_allclose(slope, (above - below) / (2 * step * FLOWS), rtol=1e-5)


def test_loss_never_falls_as_flow_rises():
    """At 4 000 flows across all transitions."""
    flow = np.linspace(1e-7, 5e-5, 4000)
    loss, slope = price(
        flow,
        tubes={"line": [(0.012, 3e-3, 0.0, 1.28)]},
        changes={"line": [(4e-3, 3e-3), (3e-3, 4e-3)]},
    )
    assert (np.diff(loss) >= 0).all()
    assert (slope >= 0).all()
