"""Friction of straight tube against published factors, closed forms and a second method."""

import numpy as np
import pytest
from fluids.friction import Churchill_1977
from scipy.optimize import brentq

from plumbing.physics.friction import (
    churchill,
    laminar_excess,
    reynolds,
    tube_loss,
)


def friction_loss(*given):
    """Pressure lost along a tube, without its slope."""
    return tube_loss(*given)[0]


LITRE_MIN = 1e-3 / 60.0
POISEUILLE = "Hagen-Poiseuille, 128 mu L Q / (pi D^4), computed by hand"
DOCSTRING = "Churchill 1977, worked value printed in fluids 1.3.1"


@pytest.mark.outside(
    "Churchill 1977, Chemical Engineering 84(24) p. 91, evaluated by fluids 1.3.1",
    quantity="Darcy friction factor",
)
@pytest.mark.parametrize(
    ("number", "rough", "factor"),
    [
        (1000.0, 0.0, 0.06400000),
        (2000.0, 0.0, 0.03204332),
        (2100.0, 0.0, 0.03070630),
        (2300.0, 0.0, 0.03084010),
        (2500.0, 0.0, 0.03514509),
        (3000.0, 0.0, 0.04297466),
        (4000.0, 0.0, 0.04058973),
        (4000.0, 0.001, 0.04172803),
        (4000.0, 0.005, 0.04592134),
        (10000.0, 0.0, 0.03100213),
        (10000.0, 0.001, 0.03269020),
        (1e5, 0.0, 0.01787482),
        (1e5, 1e-3, 0.02234324),
        (1e6, 1e-4, 0.01350820),
    ],
)
def test_published_factors(number, rough, factor):
    """Friction factors agree with the published correlation."""
    assert float(churchill(number, rough)) == pytest.approx(factor, rel=1e-6)


@pytest.mark.outside(DOCSTRING, quantity="Darcy friction factor")
def test_printed_factor():
    """The printed example comes out to its last digits."""
    assert float(churchill(1e5, 1e-4)) == pytest.approx(0.018462624566, rel=1e-10)


@pytest.mark.outside(
    "Colebrook 1939, solved; stated values from fluids 1.3.1", quantity="turbulent friction factor"
)
@pytest.mark.parametrize(
    ("number", "rough", "factor"),
    [(10000.0, 0.0, 0.03088295), (1e5, 0.0, 0.01798977), (1e5, 1e-4, 0.018513866077)],
)
def test_colebrook(number, rough, factor):
    """In turbulent flow the factor is within one per cent of Colebrook's."""
    assert float(churchill(number, rough)) == pytest.approx(factor, rel=0.01)


def test_equal_to_second_method_over_a_grid():
    """The factor equals the general-purpose library's from laminar flow to full turbulence."""
    numbers = np.geomspace(0.01, 1e8, 400)
    for rough in (0.0, 1e-6, 1e-4, 1e-3, 0.01, 0.05):
        expected = [Churchill_1977(re, rough) if re > 1.0 else 64.0 / re for re in numbers]
        np.testing.assert_allclose(churchill(numbers, rough), expected, rtol=1e-11)


@pytest.mark.outside(POISEUILLE, quantity="pressure drop of a laminar tube")
@pytest.mark.parametrize(
    ("litres", "bore", "length", "nu", "speed", "number", "drop"),
    [
        (0.10, 2.0, 1.0, 1.8, 0.53052, 589.46, 6111.55),
        (0.25, 2.5, 0.5, 1.5, 0.84883, 1414.71, 2607.59),
        (0.50, 4.0, 1.0, 1.8, 0.66315, 1473.66, 1909.86),
    ],
)
def test_laminar_tubes(litres, bore, length, nu, speed, number, drop):
    """Laminar tubes lose what Hagen and Poiseuille say."""
    flow, mu = litres * LITRE_MIN, 800.0 * nu * 1e-6
    bore *= 1e-3
    assert flow / (np.pi / 4 * bore**2) == pytest.approx(speed, rel=1e-5)
    assert float(reynolds(flow, bore, 800.0, mu)) == pytest.approx(number, rel=1e-5)
    exact = 128.0 * mu * length * flow / (np.pi * bore**4)
    assert float(friction_loss(flow, length, bore, 0.0, 800.0, mu)) == pytest.approx(
        exact, rel=1e-6
    )
    assert exact == pytest.approx(drop, rel=2e-6)


@pytest.mark.outside(
    "Darcy-Weisbach with Churchill 1977, computed with fluids 1.3.1",
    quantity="pressure drop in transition",
)
@pytest.mark.parametrize(
    ("litres", "bore", "drop"), [(0.5, 2.5e-3, 14693.18), (1.0, 4.0e-3, 7515.84)]
)
def test_transition(litres, bore, drop):
    """In transition the loss is well above the laminar one."""
    got = friction_loss(litres * LITRE_MIN, 1.0, bore, 0.0, 800.0, 800.0 * 1.8e-6)
    assert float(got) == pytest.approx(drop, rel=1e-6)


@pytest.mark.outside(
    "Reynolds number and mean speed, arithmetic with nu = 1.7 mm2/s", quantity="Reynolds number"
)
@pytest.mark.parametrize(
    ("bore", "litres", "number"),
    [
        (2.0, 0.1, 624),
        (2.0, 2.0, 12483),
        (2.5, 0.5, 2497),
        (3.0, 1.0, 4161),
        (4.0, 0.1, 312),
        (4.0, 1.0, 3121),
        (5.0, 0.5, 1248),
        (6.0, 2.0, 4161),
    ],
)
def test_reynolds_map(bore, litres, number):
    """Reynolds numbers of usual tubes and flows."""
    got = reynolds(litres * LITRE_MIN, bore * 1e-3, 800.0, 800.0 * 1.7e-6)
    assert float(got) == pytest.approx(number, abs=0.6)


@pytest.mark.outside("two laminar tubes side by side, exact linear split", quantity="flow split")
def test_two_tubes_side_by_side():
    """A 3 mm tube beside a 4 mm tube takes the share its resistance gives it."""
    total, mu = 0.6 * LITRE_MIN, 1.44e-3

    def short(flow):
        return float(friction_loss(flow, 0.5, 3e-3, 0.0, 800.0, mu))

    flow = brentq(
        lambda q: short(q) - float(friction_loss(total - q, 0.8, 4e-3, 0.0, 800.0, mu)), 0, total
    )
    # the printed split takes both tubes as laminar; the wide one is at Re 1174
    assert flow / LITRE_MIN == pytest.approx(0.201660, rel=2e-5)
    assert short(flow) == pytest.approx(1217.238, rel=2e-5)


@pytest.mark.outside(
    "Crane TP-410M example 7-8, book answer 6382 Pa", quantity="laminar oil in pipe and globe valve"
)
def test_crane_laminar_oil():
    """Oil through 60 m of 200 mm pipe and a globe valve loses what the book says."""
    flow = 600 * 42 * 231 * 0.0254**3 / 3600
    bore, rho, mu = 0.20274, 869.2, 0.130
    dynamic = 0.5 * rho * (flow / (np.pi / 4 * bore**2)) ** 2
    pipe = float(friction_loss(flow, 60.0, bore, 0.0, rho, mu))
    assert float(reynolds(flow, bore, rho, mu)) == pytest.approx(1112.65, rel=1e-4)
    assert pipe + 340 * 0.014038 * dynamic == pytest.approx(6382, rel=1e-3)


@pytest.mark.outside(
    "vent air through 3 mm x 0.5 m, Hagen-Poiseuille, 75.87 Pa", quantity="vent line drop"
)
def test_vent_air():
    """A litre of air a minute costs a vent line almost nothing."""
    got = friction_loss(1.0 * LITRE_MIN, 0.5, 3e-3, 0.0, 1.225, 1.81e-5)
    assert float(got) == pytest.approx(75.87, rel=1e-4)


def test_slope_is_the_derivative():
    """The slope is the derivative of the drop at every flow, rough or smooth."""
    flow = np.geomspace(1e-9, 1e-3, 300)
    for rough in (0.0, 2e-6, 1e-4):
        _, slope = tube_loss(flow, 1.3, 4e-3, rough, 800.0, 1.4e-3)
        step = 1e-5
        up = friction_loss(flow * (1 + step), 1.3, 4e-3, rough, 800.0, 1.4e-3)
        down = friction_loss(flow * (1 - step), 1.3, 4e-3, rough, 800.0, 1.4e-3)
        np.testing.assert_allclose(slope, (up - down) / (2 * step * flow), rtol=1e-6)


def test_no_flow():
    """Without flow nothing is lost, and the slope is Hagen and Poiseuille's."""
    drop, slope = tube_loss(0.0, 2.0, 3e-3, 1e-6, 800.0, 1.4e-3)
    assert float(drop) == 0.0
    assert float(slope) == pytest.approx(128 * 1.4e-3 * 2.0 / (np.pi * 3e-3**4), rel=1e-12)


def test_big_arrays_equal_small_ones():
    """Work done in blocks gives what one element at a time gives, for every mix of shapes."""
    rng = np.random.default_rng(3)
    flow = rng.uniform(-2e-5, 2e-5, (3000, 7))
    bore, rough = rng.uniform(2e-3, 6e-3, 7), rng.uniform(0, 5e-6, 7)
    rho = rng.uniform(780, 840, (3000, 1))
    drop, slope = tube_loss(flow, 0.7, bore, rough, rho, 1.6e-6 * rho)
    assert drop.shape == slope.shape == (3000, 7)
    for row, column in ((0, 0), (1234, 3), (2999, 6)):
        one, steep = tube_loss(
            flow[row, column], 0.7, bore[column], rough[column], rho[row, 0], 1.6e-6 * rho[row, 0]
        )
        assert drop[row, column] == pytest.approx(float(one), rel=1e-13)
        assert slope[row, column] == pytest.approx(float(steep), rel=1e-13)


def test_laminar_excess_is_one_in_laminar_flow():
    """Up to a Reynolds number of 1000 the factor is 64/Re and nothing else."""
    ratio, growth = laminar_excess(np.array([0.0, 1.0, 999.0]))
    assert (ratio == 1.0).all()
    assert (growth == 0.0).all()


@pytest.mark.outside(
    "Crane TP-410M example 7-1, smooth plastic pipe: Re 100 600, f 0.0179",
    quantity="turbulent friction factor of water",
)
def test_crane_smooth_pipe():
    """Water in smooth 50 mm pipe has the book's friction factor, to one and a half per cent."""
    number = float(reynolds(200 * LITRE_MIN, 0.050, 995.65, 0.7972e-3))
    assert number == pytest.approx(100600, rel=0.06)
    assert float(churchill(100600.0)) == pytest.approx(0.0179, rel=0.015)


@pytest.mark.outside(
    "Crane TP-410M example 7-9 inputs; 26.065 psi worked by hand", quantity="laminar oil uphill"
)
def test_crane_oil_uphill():
    """Oil through 300 ft of 5 in pipe with an elbow and two valves, 50 ft up."""
    foot, inch, psi = 0.3048, 0.0254, 6894.757293168
    bore, rho, mu = 5.047 * inch, 869.109, 0.130
    flow = 400 * 231 * inch**3 / 60
    speed = flow / (np.pi / 4 * bore**2)
    assert speed / foot == pytest.approx(6.4148, rel=1e-4)
    assert float(reynolds(flow, bore, rho, mu)) == pytest.approx(1675.7, rel=1e-4)
    fittings = (8 + 150 + 20) * 0.015440 * 0.5 * rho * speed**2
    pipe = float(friction_loss(flow, 300 * foot, bore, 0.0, rho, mu))
    lift = rho * 9.80665 * 50 * foot
    assert (pipe + fittings + lift) / psi == pytest.approx(26.065, rel=1e-3)
