"""Balance at each step of the feed order, held to moments worked by hand."""

import math

import pytest

from plumbing.layout import read
from plumbing.model.tank import Baffle, Box, Tank
from plumbing.simulation.balance import fuel_mass, slosh, states
from plumbing.simulation.levels import down_at, gas_kept, height, span, surface

TEXT = """
format: 1
title: balance
origin: dry centre of gravity
aircraft: {dry-mass: 16 kg, dry-cg: [0 mm, 0 mm, 0 mm], dry-cg-gear-up: [5 mm, 0 mm, 0 mm]}
fuel: {kind: own, density-15: 800 kg/m3, oil: 0 %, viscosity: [
  {at: 20 degC, value: 1.8 mm2/s}, {at: -20 degC, value: 4.5 mm2/s}],
  temperature: {coldest: 0 degC, usual: 15 degC, hottest: 30 degC}}
engines: {engine: {at: [1 m, 0 mm, 0 mm], full-flow: 500 ml/min}}
tanks:
  main:
    shape: {box: {at: [-80 mm, 0 mm, 0 mm], size: [200 mm, 150 mm, 100 mm]}}
    displaced: 0 %
    fill: 100 %
    ports:
      feed: {at: [-180 mm, 0 mm, 0 mm], bore: 4 mm, pickup: {kind: clunk, reach: 190 mm}}
      vent: {at: [-80 mm, 0 mm, 50 mm], bore: 4 mm}
pumps: {pump: {at: [500 mm, 0 mm, 0 mm], bore: 4 mm}}
outlets: {vent: {at: [0 mm, 0 mm, 100 mm], bore: 4 mm}}
tubes: {six: {outside-diameter: 6 mm, inside-diameter: 4 mm, material: polyurethane}}
lines:
  feed: {from: main.feed, to: pump.in, tube: six}
  delivery: {from: pump.out, to: engine.feed, tube: six}
  vent: {from: main.vent, to: vent.tube, tube: six}
"""


def _box(**fields):
    shape = Box(at=(0.0, 0.0, 0.0), size=(0.1, 0.05, 0.1))
    return Tank(name="box", shape=shape, ports={}, **fields)


@pytest.mark.outside("moments about the dry centre of gravity, by hand", quantity="CG with fuel")
def test_full_and_dry():
    """3 L of 800 kg/m3, 80 mm ahead of 16 kg, shift the whole by 2.4 x 80 / 18.4 mm."""
    full, full_up, dry, dry_up = states(read(TEXT), (("main",),))
    assert full.mass == pytest.approx(18.4, rel=1e-3)
    assert full.cg[0] == pytest.approx(-0.08 * 2.4 / 18.4, rel=2e-3)
    assert full_up.cg[0] - full.cg[0] == pytest.approx(0.005 * 16 / 18.4, rel=1e-3)
    assert (dry.cg, dry.mass) == ((0.0, 0.0, 0.0), 16.0)
    assert dry_up.cg[0] == pytest.approx(0.005)
    assert [state.what for state in (full, dry, dry_up)] == [
        "full tanks",
        "no fuel",
        "no fuel and the gear up",
    ]


def test_fuel_mass_leaves_out_air_and_foam():
    """Fill and displaced share both lessen the fuel."""
    layout = read(TEXT)
    whole = fuel_mass(layout, _box(displaced=0.0, fill=1.0))
    assert fuel_mass(layout, _box(displaced=0.1, fill=0.5)) == pytest.approx(0.45 * whole)


@pytest.mark.outside("centroid of half a square cut along its diagonal", quantity="slosh")
def test_slosh_at_one_g():
    """At 1 g forward the fuel lies under the diagonal, its centre a sixth of the length aft."""
    layout = read(TEXT)
    tank = _box(displaced=0.0)
    half = 0.5 * fuel_mass(layout, _box(displaced=0.0, fill=1.0))
    assert slosh(layout, tank, 1.0) == pytest.approx(half * 0.1 / 6.0, rel=1e-6)
    assert slosh(layout, tank, 0.0) == pytest.approx(0.0, abs=1e-12)
    split = _box(displaced=0.0, baffles=(Baffle(at=0.0),))
    assert slosh(layout, split, 1.0) == pytest.approx(half * 0.1 / 12.0, rel=1e-6)


def test_levels_of_a_box():
    """A box half full stands at its middle, at any attitude; a quarter lies above 25 mm."""
    tank = _box()
    assert surface(tank, 0.5) == pytest.approx(0.0, abs=1e-12)
    assert surface(tank, 0.5, down_at(0.3, -0.4)) == pytest.approx(0.0, abs=1e-9)
    kept, top = gas_kept(tank, [(0.0, 0.0, -0.01), (0.0, 0.0, 0.025)])
    assert kept == pytest.approx(0.25)
    assert top[2] == pytest.approx(0.05)
    assert span(tank, down_at(math.pi / 4)) == pytest.approx((-0.1 / 2**0.5, 0.1 / 2**0.5))


def test_heights_turn_with_the_aircraft():
    """Nose up 30 degrees, what is 1 m aft is half a metre lower."""
    assert height((1.0, 0.0, 0.0), down_at(math.radians(30))) == pytest.approx(-0.5)
    assert height((0.0, 1.0, 0.0), down_at(0.0, math.radians(30))) == pytest.approx(-0.5)
