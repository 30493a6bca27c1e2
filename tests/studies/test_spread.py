"""Spreads held to closed forms: powers of the bore, quantiles, chances at the median."""

import json
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.stats import norm

from plumbing.checks.limits import limits_in_force
from plumbing.errors import UsageError
from plumbing.hydraulics.compile import compile_suction
from plumbing.layout import read
from plumbing.network import survey
from plumbing.report.spread_text import spread_json, spread_text
from plumbing.simulation.peak import peak_flow
from plumbing.stopping import watched
from plumbing.studies.spread import Wanted, computing, spread
from plumbing.studies.spread.draws import draw
from plumbing.studies.spread.drivers import drivers
from plumbing.studies.spread.sobol import indices, two_sets
from plumbing.studies.spread.steady import bench, steady

STILL = (
    "bore: 0.0001 mm, viscosity: 0.01 %, flow: 0.01 %, pore: 0.01 %, position: 0.001 mm, "
    "cut-length: 0.001 mm"
)
LINE = """\
format: 1
title: One line
origin: nose
fuel: {{temperature: {{coldest: 19 degC, usual: 20 degC, hottest: 21 degC}}}}
engines:
  engine:
    {{at: [900 mm, 0 mm, 0 mm], full-flow: 40 ml/min, idle-flow: 40 ml/min,
     flame-out-gas-share: 30 %}}
tanks:
  main:
    shape: {{box: {{at: [200 mm, 0 mm, 25 mm], size: [200 mm, 100 mm, 50 mm]}}}}
    ports:
      feed: {{at: [200 mm, 0 mm, 0 mm]}}
      vent: {{at: [120 mm, 0 mm, 50 mm]}}
pumps:
  pump: {{at: [600 mm, 0 mm, 0 mm], bore: 2 mm}}
outlets:
  vent: {{at: [120 mm, 90 mm, -60 mm], bore: 4 mm}}
lines:
  feed: {{from: main.feed, to: pump.in, tube: polyurethane 4x2, cut-length: 2 m}}
  pressure: {{from: pump.out, to: engine, tube: nylon 4x2.5}}
  vent: {{from: main.vent, to: vent, tube: polyurethane 6x4, cut-length: 300 mm}}
flights:
  short: {{phases: [{{name: level, duration: 60 s, throttle: 100 %}}]}}
tolerances: {{{tolerances}}}
"""
SUCTION = "suction on a usual day"


def line(**changed):
    """The one line with tolerances that hold everything still but those changed."""
    tolerances = dict(pair.split(": ") for pair in STILL.split(", ")) | changed
    return read(LINE.format(tolerances=", ".join(f"{k}: {v}" for k, v in tolerances.items())))


def spreading(layout, limits=None, seed=1, samples=128, **wanted):
    """Spread of a layout with some limits of its own."""
    found = limits_in_force(layout) | (limits or {})
    return spread(layout, survey(layout), found, Wanted(samples, seed, **wanted))


def named(found, what):
    """The spread of that name."""
    return next(one for one in found.spreads if one.what == what)


@pytest.mark.outside(
    "Hagen and Poiseuille: laminar loss goes with the fourth power of the bore",
    quantity="percentiles of suction over bore",
)
def test_fourth_power():
    """Percentiles of the suction of one laminar line are those of the bore to the power -4."""
    one = named(spreading(line(bore="0.1 mm")), SUCTION)
    wide, narrow = (2.0 + sign * norm.ppf(0.95) * 0.05 for sign in (1, -1))
    assert one.high / one.middle == pytest.approx((2.0 / narrow) ** 4, rel=0.02)
    assert one.low / one.middle == pytest.approx((2.0 / wide) ** 4, rel=0.02)
    assert list(one.drivers) == ["bore"]


@pytest.mark.outside(
    "Hagen and Poiseuille: laminar loss goes with flow, viscosity and length",
    quantity="percentiles of suction over viscosity",
)
def test_first_power():
    """Suction of one laminar line spreads as the viscosity does."""
    one = named(spreading(line(viscosity="20 %")), SUCTION)
    assert one.high / one.middle == pytest.approx(1.0 + 0.1 * norm.ppf(0.95), rel=0.01)
    assert list(one.drivers) == ["viscosity"]


def test_limit_at_the_median():
    """A finding whose limit is the median of what it measures has the chance of one half."""
    layout = line(bore="0.1 mm")
    middle = named(spreading(layout), SUCTION).middle
    found = spreading(layout, {"inlet-suction-too-high": middle}, seed=2)
    chance = next(one for one in found.chances if one.check == "inlet-suction-too-high")
    assert chance.chance == pytest.approx(0.5, abs=0.09)
    assert chance.error == pytest.approx(np.sqrt(0.25 / 128), rel=0.3)


def test_same_seed():
    """The same seed gives the same text, another seed nearly the same numbers."""
    layout = line(bore="0.1 mm", flow="10 %")
    first, again, other = spreading(layout), spreading(layout), spreading(layout, seed=7)
    assert spread_text(layout, first) == spread_text(layout, again)
    assert spread_json(layout, first) == spread_json(layout, again)
    one, two = named(first, SUCTION), named(other, SUCTION)
    assert 0.0 < abs(one.middle - two.middle) < 4.0 * np.hypot(one.error, two.error)


def test_json_and_width():
    """JSON holds finite numbers only, and the text keeps to 80 columns."""
    layout = line(flow="12 %")
    found = spreading(layout, samples=64)
    assert json.loads(spread_json(layout, found))["samples"] == 64
    assert max(map(len, spread_text(layout, found).splitlines())) <= 80


def test_endurance_of_one_tank():
    """Endurance of one tank goes as one over the flow."""
    one = named(spreading(line(flow="10 %")), "endurance")
    assert one.low / one.middle == pytest.approx(1.0 / (1.0 + 0.05 * norm.ppf(0.95)), rel=0.01)
    assert list(one.drivers) == ["engine flow"]


@pytest.mark.outside("triangular distribution, closed form", quantity="fuel temperature quantiles")
def test_temperatures():
    """Fuel temperature has the quantiles of a triangle over its range."""
    celsius = draw(line(), 1024, 1).celsius
    found = np.quantile(celsius, [0.05, 0.5, 0.95])
    expected = [19 + np.sqrt(0.05 * 2), 20.0, 21 - np.sqrt(0.05 * 2)]
    assert found == pytest.approx(expected, abs=0.01)


def test_drivers_of_a_sum():
    """Of a sum of two even numbers, each makes the share of its squared weight."""
    dice = np.random.default_rng(1)
    unit = dice.random((2000, 3))
    found, explained = drivers(("a", "b", "c"), unit, 3.0 * unit[:, 0] - unit[:, 1])
    assert found["a"] == pytest.approx(0.9, abs=0.03)
    assert found["b"] == pytest.approx(0.1, abs=0.03)
    assert "c" not in found
    assert explained > 0.95


def test_factors_are_exact():
    """A batch priced by factors gives the suction of the network compiled with those bores."""
    layout = line(bore="0.2 mm")
    around = survey(layout)
    set_up = bench(layout, around)
    draws = draw(layout, 64, 3)
    found = steady(set_up, draws)
    for number in (0, 17, 40):
        reference = replace(set_up.reference, bore_offset=float(draws.bore[number]))
        own = replace(set_up, plumbed=compile_suction(layout, around, reference))
        calm = replace(draws.rows(np.array([number])), bore=draws.bore[[number]])
        direct = steady(own, calm)
        assert found.suction[number] == pytest.approx(direct.suction[0], rel=1e-9, abs=1e-6)


def ishigami(unit):
    """The function of Ishigami and Homma, with 7 and 0.1, of numbers between 0 and 1."""
    x = np.pi * (2.0 * unit - 1.0)
    return np.sin(x[:, 0]) + 7.0 * np.sin(x[:, 1]) ** 2 + 0.1 * x[:, 2] ** 4 * np.sin(x[:, 0])


@pytest.mark.outside(
    "Ishigami and Homma's function, closed form of its variances by hand; from memory",
    quantity="first-order and total Sobol indices",
)
def test_sobol_indices_of_a_known_function():
    """Indices of a function that humps and has partners are those of its closed form."""
    first, whole = 0.5 * (1.0 + 0.1 * np.pi**4 / 5.0) ** 2, 0.1**2 * np.pi**8 * 8.0 / 225.0
    second = 7.0**2 / 8.0
    total = first + second + whole
    own, other = two_sets(3, 1024, 5)
    exchanged = [np.where(np.arange(3) == column, other, own) for column in range(3)]
    values = np.stack([ishigami(one) for one in (own, other, *exchanged)])
    alone, with_others = indices(values)
    assert alone == pytest.approx([first / total, second / total, 0.0], abs=0.03)
    expected = [(first + whole) / total, second / total, whole / total]
    assert with_others == pytest.approx(expected, abs=0.03)


def test_sobol_sees_the_hump_that_ranks_do_not():
    """Regression of ranks explains next to nothing of a hump; Sobol's indices name its cause."""
    own, other = two_sets(2, 512, 1)
    sets = [own, other, *(np.where(np.arange(2) == c, other, own) for c in range(2))]
    values = np.stack([(one[:, 0] - 0.5) ** 2 for one in sets])
    _, explained = drivers(("a", "b"), own, values[0])
    alone, with_others = indices(values)
    assert explained < 0.1
    assert alone == pytest.approx([1.0, 0.0], abs=0.03)
    assert with_others == pytest.approx([1.0, 0.0], abs=0.03)


@pytest.mark.slow
def test_sobol_of_one_line():
    """Two causes of one laminar line share its variance by the squares of what each does."""
    layout = line(viscosity="20 %", flow="10 %")
    one = named(spreading(layout, samples=512, sobol=True), SUCTION)
    assert set(one.shares) == {"viscosity", "engine flow"}
    assert one.shares["viscosity"].alone == pytest.approx(0.8, abs=0.05)
    assert one.shares["engine flow"].alone == pytest.approx(0.2, abs=0.05)
    assert sum(share.whole for share in one.shares.values()) == pytest.approx(1.0, abs=0.08)
    text = spread_text(layout, spreading(layout, samples=64, sobol=True))
    assert "by Sobol indices: viscosity" in text
    assert max(map(len, text.splitlines())) <= 80


def test_more_samples_begin_with_the_same():
    """A doubled spread goes on with the samples of the first, so that none is computed twice."""
    few, many = draw(line(), 128, 4), draw(line(), 256, 4)
    assert np.array_equal(few.unit, many.unit[:128])


@pytest.mark.slow
def test_error_asked_for_is_reached():
    """Samples are doubled until the error is what was asked, and the answer is that of as many."""
    layout = line(bore="0.1 mm")
    limits = {"inlet-suction-too-high": named(spreading(layout), SUCTION).middle}
    told = []
    in_force = limits_in_force(layout) | limits
    with watched("spread", lambda _, share: told.append(share)):
        found = spread(layout, survey(layout), in_force, Wanted(64, 1, 0.02))
    assert found.converged
    assert found.samples == 1024, "the root of 0.25 / 1024 is the first below 2 %"
    assert 0.0 <= min(told) < 0.5 < max(told) <= 1.0
    assert max(told) == told[-1]
    at_once = spreading(layout, limits, samples=1024)
    assert found.chances == at_once.chances
    assert found.spreads == at_once.spreads


def test_samples_without_an_answer_are_counted(monkeypatch):
    """Of samples whose flights break off the number is said; figures are of the rest."""
    whole = computing.flights

    def some_break_off(*given):
        flown = whole(*given)
        wrong = np.where(np.arange(len(flown.met)) < 3, 1e6, flown.endurance)
        return replace(flown, endurance=wrong, met=np.arange(len(flown.met)) >= 3)

    monkeypatch.setattr(computing, "flights", some_break_off)
    found = spreading(line(), samples=64)
    (what, why), *_ = found.unsolved.items()
    assert what == "flight in 3 of 64 samples"
    assert why.endswith("all figures of it are over the others")
    (endurance,) = (one for one in found.spreads if one.what == "endurance")
    assert endurance.high < 1e5
    monkeypatch.setattr(
        computing, "flights", lambda *given: replace(whole(*given), met=np.zeros(64, dtype=bool))
    )
    assert "endurance" not in {one.what for one in spreading(line(), samples=64).spreads}


@pytest.mark.parametrize(
    "wanted", [{"samples": 63}, {"samples": 16_385}, {"error": 0.003}, {"error": float("nan")}]
)
def test_bounds_of_what_is_asked(wanted):
    """Too few or many samples, and an error that cannot be reached, are refused."""
    with pytest.raises(UsageError, match="expected"):
        Wanted(**wanted)


@pytest.mark.slow
def test_stated_error_bounds_the_scatter_of_seeds():
    """Chances and middles of twelve seeds scatter no more than the errors they state."""
    layout = line(bore="0.1 mm", flow="10 %", viscosity="10 %")
    limits = {"inlet-suction-too-high": 1.05 * named(spreading(layout), SUCTION).middle}
    found = [spreading(layout, limits, seed) for seed in range(12)]
    chances = [next(c for c in one.chances if c.check == "inlet-suction-too-high") for one in found]
    middles = [named(one, SUCTION) for one in found]
    assert np.std([one.chance for one in chances], ddof=1) < np.mean([c.error for c in chances])
    assert np.std([one.middle for one in middles], ddof=1) < np.mean([m.error for m in middles])


@pytest.mark.outside(
    "Laplace's rule of succession: (k + 1) / (n + 2)", quantity="error of a chance never seen"
)
def test_none_found_is_not_never():
    """A finding in none of 64 samples has the error of one in 66, not of zero."""
    found = spreading(line(), {"inlet-suction-too-high": 1e9}, samples=64)
    chance = next(c for c in found.chances if c.check == "inlet-suction-too-high")
    assert chance.chance == 0.0
    assert chance.error == pytest.approx(np.sqrt(1 / 66 * 65 / 66 / 64))


def test_tolerances_of_nothing_move_nothing():
    """With every tolerance zero and one temperature, all samples are alike and nothing drives."""
    zero = ", ".join(f"{pair.split(': ')[0]}: 0 {pair.split()[-1]}" for pair in STILL.split(", "))
    text = LINE.format(tolerances=zero).replace("19 degC", "20 degC").replace("21 degC", "20 degC")
    layout = read(text)
    found = spreading(layout, samples=64, sobol=True)
    assert all(one.low == one.high and not one.drivers and not one.shares for one in found.spreads)
    assert {one.chance for one in found.chances} <= {0.0, 1.0}
    assert "hardly moved" in spread_text(layout, found)


def test_chance_is_that_of_the_flow_at_the_limit():
    """The chance of a finding is that of a flow beyond the one that meets the limit: a second way.

    That flow is found with ordinary peak flow; its chance is that of the normal distribution, cut
    off at three standard deviations.
    """
    layout = line(flow="10 %")

    def over(factor, limit=0.0):
        engine = replace(layout.engines["engine"], full_flow=factor * 40e-6 / 60.0)
        other = replace(layout, engines={"engine": engine})
        return peak_flow(other, survey(other)).engines["engine"].suction.value - limit

    limit = 1.05 * over(1.0)
    at = brentq(over, 1.0, 1.15, args=(limit,), xtol=1e-5)
    beyond = (norm.sf((at - 1.0) / 0.05) - norm.sf(3.0)) / (1.0 - 2.0 * norm.sf(3.0))
    found = spreading(layout, {"inlet-suction-too-high": limit}, samples=1024)
    chance = next(c for c in found.chances if c.check == "inlet-suction-too-high")
    assert chance.chance == pytest.approx(beyond, abs=2.0 * chance.error)
    assert 0.05 < beyond < 0.4
