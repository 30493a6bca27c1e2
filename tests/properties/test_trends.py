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


CHAIN = """\
format: 1
title: A chain
origin: nose
engines:
  engine: {{at: [900 mm, 0 mm, 0 mm], full-flow: 150 ml/min, idle-flow: 150 ml/min}}
tanks:
  first:
    shape: {{box: {{at: [200 mm, -150 mm, 25 mm], size: [200 mm, 100 mm, 50 mm]}}}}
    fill: {first} %
    ports:
      feed: {{at: [200 mm, -150 mm, {pickup} mm]}}
      vent: {{at: [120 mm, -150 mm, 50 mm]}}
  second:
    shape: {{box: {{at: [200 mm, 150 mm, 25 mm], size: [200 mm, 100 mm, 50 mm]}}}}
    fill: {second} %
    ports:
      in: {{at: [120 mm, 150 mm, 50 mm]}}
      feed: {{at: [200 mm, 150 mm, {pickup} mm]}}
  last:
    shape: {{box: {{at: [450 mm, 0 mm, 15 mm], size: [80 mm, 60 mm, 50 mm]}}}}
    role: header
    fill: {last} %
    ports:
      in: {{at: [420 mm, 0 mm, 40 mm]}}
      feed: {{at: [450 mm, 0 mm, -10 mm]}}
pumps:
  pump: {{at: [600 mm, 0 mm, 20 mm], bore: 4 mm}}
outlets:
  vent: {{at: [120 mm, 90 mm, -60 mm], bore: 4 mm}}
lines:
  link: {{from: first.feed, to: second.in, tube: polyurethane 6x4, cut-length: 500 mm}}
  on: {{from: second.feed, to: last.in, tube: polyurethane 6x4, cut-length: 500 mm}}
  feed: {{from: last.feed, to: pump.in, tube: polyurethane 6x4, cut-length: 300 mm}}
  pressure: {{from: pump.out, to: engine, tube: nylon 4x2.5}}
  vent: {{from: first.vent, to: vent, tube: polyurethane 6x4, cut-length: 300 mm}}
flights:
  short: {{phases: [{{name: level, duration: 60 s, throttle: 100 %}}]}}
"""


def air_in(fills, pickup):
    """When a millilitre of air is in the header, and when the engine stops [s]."""
    first, second, last = fills
    layout = read(CHAIN.format(first=first, second=second, last=last, pickup=pickup))
    flown = fly(layout, survey(layout))
    history = flown.dry_run
    header = history.volume[:, history.tanks.index("last")]
    let_in = np.maximum.accumulate(header[0] - header)
    return float(np.interp(1e-6, let_in, history.time)), flown.endurance


@QUICK
@given(
    st.tuples(*[st.integers(5, 80)] * 3), st.tuples(*[st.integers(0, 15)] * 3), st.integers(0, 20)
)
def test_more_fuel_in_every_tank_of_a_chain_never_brings_air_earlier(fills, more, pickup):
    """More fuel in a chain lets air neither into its header nor to its engine sooner."""
    header, engine = air_in(fills, pickup)
    later_header, later_engine = air_in([a + b for a, b in zip(fills, more, strict=True)], pickup)
    assert later_header >= header - 0.1
    assert later_engine >= engine - 0.1


FAULTS = {
    "length": 2400,
    "bore": 2.5,
    "joint": 2.0,
    "flow": 300,
    "usual": -9.0,
}


@QUICK
@given(st.sets(st.sampled_from(sorted(FAULTS)), min_size=1), st.sampled_from(sorted(FAULTS)))
def test_another_fault_never_clears_high_suction(there, another):
    """What is found of suction with some of its causes is found with one more of them too."""
    limit = 5e3
    before = suction(**{name: FAULTS[name] for name in there})
    after = suction(**{name: FAULTS[name] for name in {*there, another}})
    assert after > limit or before <= limit
    assert after >= before - 0.02


@QUICK
@given(st.sampled_from(["A", "zz tank", "tank-9", "Ölwanne"]), st.sampled_from(["B", "line 7"]))
def test_names_change_nothing(tank, line):
    """Other names, and so another order of names, change no number."""
    plain, renamed = path(), path(tank=tank, line=line)
    one, two = fly(plain, survey(plain)), fly(renamed, survey(renamed))
    assert suction() == suction(tank=tank, line=line)
    assert one.endurance == two.endurance
    assert np.array_equal(one.history.volume, two.history.volume)
