"""What must hold for every single suction path, whatever its sizes.

With one path the flow is given, so that suction is the sum of the losses of its elements less the
head. In networks with several ways or with air none of these need hold: a wider branch may draw
air from a tank that stood still before.
"""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from plumbing.layout import read
from plumbing.network import survey
from plumbing.simulation.flight import fly
from plumbing.simulation.peak import peak_flow

from .test_any_layout import QUICK

PATH = """\
format: 1
title: One path
origin: nose
fuel: {{temperature: {{coldest: -10 degC, usual: {usual:.3f} degC, hottest: 45 degC}}}}
engines:
  engine: {{at: [900 mm, 0 mm, 0 mm], full-flow: {flow} ml/min, idle-flow: {flow} ml/min}}
tubes:
  own: {{outside-diameter: 9 mm, inside-diameter: {bore} mm, material: polyurethane}}
joints:
  barb: {{kind: barb, bore: {joint} mm}}
tanks:
  {tank}:
    shape: {{box: {{at: [200 mm, 0 mm, 25 mm], size: [200 mm, 100 mm, 50 mm]}}}}
    fill: {fill} %
    ports:
      feed: {{at: [200 mm, 0 mm, 0 mm]}}
      vent: {{at: [120 mm, 0 mm, 50 mm]}}
pumps:
  pump: {{at: [600 mm, 0 mm, 20 mm], bore: 9 mm}}
outlets:
  vent: {{at: [120 mm, 90 mm, -60 mm], bore: 4 mm}}
lines:
  {line}: {{from: {tank}.feed, to: pump.in, tube: own, joint: barb, cut-length: {length} mm}}
  pressure: {{from: pump.out, to: engine, tube: nylon 4x2.5}}
  vent: {{from: {tank}.vent, to: vent, tube: polyurethane 6x4, cut-length: 300 mm}}
flights:
  short: {{phases: [{{name: level, duration: 60 s, throttle: 100 %}}]}}
"""
USUAL = {
    "usual": 20.0,
    "flow": 150,
    "bore": 4.0,
    "joint": 3.0,
    "tank": "main",
    "line": "feed",
    "length": 600,
    "fill": 98,
}


def path(**changed):
    """The path with some of its values changed."""
    return read(PATH.format(**(USUAL | changed)))


def suction(**changed):
    """Suction at the pump of such a path on a usual day [Pa]."""
    layout = path(**changed)
    return peak_flow(layout, survey(layout)).engines["engine"].suction.value


BORES = st.floats(2.0, 8.0)
LENGTHS = st.integers(50, 3000)
FLOWS = st.integers(20, 800)


@QUICK
@given(BORES, st.floats(0.5, 1.0), st.floats(1.01, 1.3), LENGTHS, FLOWS)
def test_wider_never_raises_suction(bore, part, wider, length, flow):
    """Tube and joints wider in the same proportion never raise suction."""
    given_ = {"length": length, "flow": flow}
    narrow = suction(bore=bore, joint=part * bore, **given_)
    wide = suction(
        bore=min(wider * bore, 8.9), joint=min(wider, 8.9 / bore) * part * bore, **given_
    )
    assert wide <= narrow + 0.02


@QUICK
@given(BORES, LENGTHS, st.integers(50, 1000), FLOWS)
def test_longer_never_lowers_suction(bore, length, more, flow):
    """A longer line never lowers suction."""
    given_ = {"bore": bore, "joint": 0.8 * bore, "flow": flow}
    assert suction(length=length + more, **given_) >= suction(length=length, **given_) - 0.02


@QUICK
@given(st.floats(4.0, 8.0), LENGTHS, st.floats(-9.0, 40.0), st.floats(1.0, 20.0))
def test_colder_never_lowers_laminar_suction(bore, length, warm, colder):
    """With the flow laminar throughout (Reynolds number below 800), colder fuel never lowers it.

    The pump stands above the fuel, so that denser fuel adds to the head as well.
    """
    given_ = {"bore": bore, "joint": bore, "flow": 60, "length": length}
    cold = suction(usual=max(warm - colder, -10.0), **given_)
    assert cold >= suction(usual=warm, **given_) - 0.02


@QUICK
@given(st.integers(10, 90), st.integers(1, 10))
def test_more_fuel_never_brings_air_earlier(fill, more):
    """More fuel in the tank of a level flight never stops the engine earlier."""
    times = []
    for share in (fill, fill + more):
        layout = path(fill=share)
        times.append(fly(layout, survey(layout)).endurance)
    assert times[1] >= times[0] - 1e-6


@QUICK
@given(st.sampled_from(["A", "zz tank", "tank-9", "Ölwanne"]), st.sampled_from(["B", "line 7"]))
def test_names_change_nothing(tank, line):
    """Other names, and so another order of names, change no number."""
    plain, renamed = path(), path(tank=tank, line=line)
    one, two = fly(plain, survey(plain)), fly(renamed, survey(renamed))
    assert suction() == suction(tank=tank, line=line)
    assert one.endurance == two.endurance
    assert np.array_equal(one.history.volume, two.history.volume)
