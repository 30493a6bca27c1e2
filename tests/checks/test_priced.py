"""Prices of vent lines and capped tanks, held to another library and to the gas law."""

from math import pi

import pytest
from fluids.friction import friction_factor

from plumbing.checks.priced import drop_along
from plumbing.checks.warmth import capped_pressure
from plumbing.hydraulics.rows import ChangeRow, FittingRow, Tag, TubeRow
from plumbing.layout import read
from plumbing.model.tank import Box, Tank
from plumbing.physics.bores import change_band

TAG = Tag("vent", "", "")
RHO, MU = 805.0, 805.0 * 1.9e-6

TEXT = """
format: 1
title: warm
origin: nose
engines: {engine: {at: [1 m, 0 mm, 0 mm], full-flow: 500 ml/min}}
tanks: {main: {shape: {box: {at: [0 mm, 0 mm, 0 mm], size: [200 mm, 100 mm, 100 mm]}}, ports: {
  feed: {at: [-100 mm, 0 mm, 0 mm], bore: 4 mm}}}}
tubes: {six: {outside-diameter: 6 mm, inside-diameter: 4 mm, material: polyurethane}}
lines: {feed: {from: main.feed, to: engine.feed, tube: six}}
filling: {temperature: 15 degC}
"""


@pytest.mark.outside("fluids: Churchill 1977 friction factor", quantity="filled vent line")
@pytest.mark.parametrize(("litres", "bore"), [(0.5, 2.5), (1.0, 4.0), (2.0, 4.0), (3.0, 6.0)])
def test_vent_line_against_another_library(litres, bore):
    """Half a metre of tube with an entrance of 160/Re + 0.5 to 1 and an exit of 1 to 2 heads."""
    flow, bore = litres / 6e4, bore / 1e3
    rows = [
        TubeRow(TAG, 0.5, bore, 1.5e-6),
        FittingRow(TAG, bore, 160.0, 0.5, 1.0),
        FittingRow(TAG, bore, 0.0, 1.0, 2.0),
    ]
    speed = flow / (pi / 4 * bore**2)
    reynolds = RHO * speed * bore / MU
    friction = friction_factor(reynolds, 1.5e-6 / bore, Method="Churchill_1977")
    head = 0.5 * RHO * speed**2
    drop = drop_along(rows, flow, RHO, MU)
    tube, start = friction * 0.5 / bore, 160.0 / reynolds
    assert drop.low == pytest.approx(head * (tube + start + 1.5), rel=1e-6)
    assert drop.high == pytest.approx(head * (tube + start + 3.0), rel=1e-6)
    assert drop.low < drop.value < drop.high


def test_bore_changes_are_priced_in_the_direction_of_flow():
    """A narrowing and a widening cost what the bounds of the bore law say of each."""
    rows = [ChangeRow(TAG, 4e-3, 3e-3), ChangeRow(TAG, 3e-3, 4e-3)]
    into, out = (change_band(1e-5, row.before, row.after, RHO, MU) for row in rows)
    drop = drop_along(rows, 1e-5, RHO, MU)
    assert drop.low == pytest.approx(into[0] + out[0])
    assert drop.high == pytest.approx(into[1] + out[1])
    assert drop.value == pytest.approx(0.5 * (drop.low + drop.high))
    assert into[1] != pytest.approx(out[1])


@pytest.mark.outside(
    "gas law; 0.09 to 0.10 % volume per kelvin of kerosene, common practice", quantity="capped tank"
)
def test_capped_half_full_tank():
    """Half full and 30 K warmer: the air warms by a tenth and loses about 2.9 % of its room."""
    tank = Tank(name="t", shape=Box(at=(0, 0, 0), size=(1, 1, 1)), ports={}, fill=1.0)
    rise = capped_pressure(read(TEXT), tank, 0.5, 45.0)
    low, high = (101325 * (318.15 / 288.15 / (1 - 30 * beta) - 1) for beta in (0.9e-3, 1.0e-3))
    assert low < rise < high


def test_brimmed_tank_has_no_room():
    """At 99 % a tank has not the room its fuel needs when 30 K warmer."""
    tank = Tank(name="t", shape=Box(at=(0, 0, 0), size=(1, 1, 1)), ports={}, fill=0.99)
    assert capped_pressure(read(TEXT), tank, 1.0, 45.0) is None
