"""Spreads held to closed forms: powers of the bore, quantiles, chances at the median."""

import json
from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import norm

from plumbing.checks.run import limits_in_force
from plumbing.hydraulics.compile import compile_suction
from plumbing.layout import read
from plumbing.network import survey
from plumbing.report.spread_text import spread_json, spread_text
from plumbing.studies.spread import spread
from plumbing.studies.spread.draws import draw
from plumbing.studies.spread.drivers import drivers
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
  engine: {{at: [900 mm, 0 mm, 0 mm], full-flow: 40 ml/min, idle-flow: 40 ml/min}}
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


def spreading(layout, limits=None, seed=1, samples=128):
    """Spread of a layout with some limits of its own."""
    found = limits_in_force(layout) | (limits or {})
    return spread(layout, survey(layout), found, samples, seed)


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
