"""Prices of vent lines, held to another library and to a sum by hand."""

from dataclasses import replace
from math import pi

import pytest
from fluids.friction import friction_factor

from plumbing.checks.case import Case
from plumbing.checks.vents import vent_too_narrow_for_filling
from plumbing.hydraulics.breakdown import drop_along, vent_rows
from plumbing.hydraulics.layout_circuit import ChangeRow, FittingRow, Tag, TubeRow
from plumbing.hydraulics.line_elements import Reference
from plumbing.layout import read
from plumbing.network import survey
from plumbing.network.vent_ways import vent_ways
from plumbing.physics.bores import change_band

TAG = Tag("vent", "", "")
RHO, MU = 805.0, 805.0 * 1.9e-6


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


VENTED = """
format: 1
title: one tank and its vent
origin: middle of the tank
fuel: {{kind: own, density-15: 805 kg/m3, oil: 0 %, viscosity: [
  {{at: 15 degC, value: 1.9 mm2/s}}, {{at: -20 degC, value: 4.5 mm2/s}}],
  temperature: {{coldest: 0 degC, usual: 15 degC, hottest: 30 degC}}}}
engines: {{engine: {{at: [500 mm, 0 mm, 0 mm], full-flow: 200 ml/min}}}}
tanks:
  main:
    shape: {{box: {{at: [0 mm, 0 mm, 0 mm], size: [200 mm, 100 mm, 100 mm]}}}}
    ports:
      feed: {{at: [100 mm, 0 mm, -40 mm], bore: 4 mm}}
      vent: {{at: [0 mm, 0 mm, 50 mm], bore: 4 mm}}
outlets: {{out: {{at: [0 mm, 300 mm, 50 mm], bore: 4 mm}}}}
tubes: {{six: {{outside-diameter: 6 mm, inside-diameter: 4 mm, material: polyurethane,
  roughness: 0.0015 mm}}}}
lines:
  feed: {{from: main.feed, to: engine.feed, tube: six}}
  vent: {{from: main.vent, to: out.tube, tube: six, cut-length: 300 mm}}
filling: {{flow: {flow} L/min, temperature: 15 degC}}
"""


def by_hand(flow, length=0.3):
    """Low and high loss of that vent, laminar: friction, 1.28 heads, one mouth at each end."""
    speed = flow / (pi / 4 * 4e-3**2)
    number = speed * 4e-3 / 1.9e-6
    friction = friction_factor(number, 1.5e-6 / 4e-3, Method="Churchill_1977")
    head = 0.5 * 805.0 * speed**2
    mouths = [2 * (160.0 / number + k) for k in (0.5, 1.0)]
    return [head * (friction * length / 4e-3 + 1.28 + each) for each in mouths]


@pytest.mark.outside(
    "fluids: Churchill 1977 factor; Hooper's mouths 160/Re + 0.5 to 1.0, added by hand",
    quantity="vent full of fuel",
)
@pytest.mark.parametrize("litres", [0.2, 0.5, 0.75])
def test_a_vent_has_one_mouth_at_each_end(litres):
    """The outlet's mouth counts once: twice would be a sixth too much."""
    layout = read(VENTED.format(flow=litres))
    found = survey(layout)
    (way,) = vent_ways(found.network)
    flow = litres / 6e4
    rows = vent_rows(layout, found.lengths, way, Reference(flow, 805.0 * 1.9e-6))
    drop = drop_along(rows, flow, 805.0, 805.0 * 1.9e-6)
    assert (drop.low, drop.high) == pytest.approx(by_hand(flow), rel=1e-6)


@pytest.mark.outside("5 kPa, with the loss added by hand as above", quantity="flow a vent passes")
@pytest.mark.parametrize(("length", "found"), [(1.22, 0), (1.28, 1)])
def test_the_check_finds_what_is_just_over_its_limit(length, found):
    """Just under 5 kPa the check is silent, just over it is not."""
    flow = 0.75 / 6e4
    layout = read(VENTED.format(flow=0.75))
    vent = replace(layout.lines["vent"], cut_length=length)
    low, high = by_hand(flow, length)
    assert (0.5 * (low + high) > 5e3) == bool(found)
    assert 0.5 * (low + high) == pytest.approx(5e3, rel=0.03)
    case = Case(replace(layout, lines={**layout.lines, "vent": vent}))
    assert len(list(vent_too_narrow_for_filling.find(case, 5e3))) == found
