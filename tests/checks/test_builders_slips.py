"""Slips that builders make are found by their name, with the numbers worked by hand."""

import pytest
from overlay import overlaid, said
from test_signs import NAMED, found, severities

from plumbing.checks.kit import Severity

SWAPPED = "lines: {feed: {from: main.vent}, vent: {from: main.feed}}"


def test_feed_and_vent_swapped_at_the_tank():
    """The port in use and the one with the pickup are both named."""
    (one,) = found("feed-on-gas-port", SWAPPED)
    assert "main.vent" in one.what
    assert "main.feed" in one.what


@pytest.mark.outside(
    "common practice: metal does not stretch over a barb", quantity="fit on a barb"
)
def test_metal_on_a_barb_is_unsafe_however_little_it_would_have_to_stretch():
    """4.5 mm bore on a barb of 4.6 mm: 2 %; a ring joint made for the tube is silent."""
    tube = "tubes: {stub: {outside-diameter: 6 mm, inside-diameter: 4.5 mm, material: aluminium}}"
    (one,) = found("stiff-tube-on-barb", f"{tube}\nlines: {{feed: {{tube: stub}}}}")
    assert one.measured.value == pytest.approx(4.6 / 4.5 - 1.0)
    assert NAMED["stiff-tube-on-barb"].severity is Severity.UNSAFE
    ring = "joints: {ring: {kind: compression, bore: 4 mm, outside-diameter: 6 mm}}"
    joined = f"{tube}\n{ring}\nlines: {{feed: {{tube: stub, joint: ring}}}}"
    assert found("stiff-tube-on-barb", joined) == []


@pytest.mark.parametrize(("bore", "told"), [(3.8, 1), (3.9, 0)])
def test_nylon_stretches_by_a_fifth(bore, told):
    """Over a barb of 4.6 mm nylon of 3.8 mm stretches by 21 %, of 3.9 mm by 18 %."""
    tube = f"{{outside-diameter: 6 mm, inside-diameter: {bore} mm, material: nylon}}"
    fragment = f"{{tubes: {{stub: {tube}}}, lines: {{feed: {{tube: stub}}}}}}"
    assert len(found("stiff-tube-on-barb", fragment)) == told


@pytest.mark.parametrize(("hottest", "rated"), [(20, 1000e3), (40, 750e3), (60, 500e3)])
def test_a_rating_falls_to_half_at_the_highest_temperature(hottest, rated):
    """Polyurethane stands 60 degC: at 40 degC, half way from 20, three quarters are left."""
    fragment = f"""
    fuel: {{temperature: {{hottest: {hottest} degC}}}}
    parking: {{on its wheels: {{hottest: 20 degC}}, nose up in the car: {{hottest: 20 degC}}}}
    pumps: {{pump: {{dead-head: 5000 kPa}}}}
    tubes:
      soft: {{outside-diameter: 4 mm, inside-diameter: 2.5 mm, material: polyurethane,
        rated-pressure: 1000 kPa}}
    lines: {{pump to filter: {{tube: soft}}}}
    """
    values = [one.measured.value for one in found("tube-pressure-too-low", fragment)]
    assert any(value == pytest.approx(rated) for value in values)


def test_plastic_through_the_firewall_is_found_however_tight_the_hole():
    """Nylon without a sleeve is; in a fire sleeve, or as metal, it is not."""
    line = "lines: {{valve to engine: {{tube: {tube}, sleeve: {sleeve}}}}}"
    metal = "tubes: {pipe: {outside-diameter: 4 mm, inside-diameter: 3 mm, material: stainless}}\n"
    bare = line.format(tube="nylon 4x2.5", sleeve="null")
    assert severities("plastic-through-firewall", bare) == [Severity.FAULT]
    assert not found("plastic-through-firewall", line.format(tube="nylon 4x2.5", sleeve="fire"))
    pipe = metal + line.format(tube="pipe", sleeve="null")
    assert not found("plastic-through-firewall", pipe)


@pytest.mark.outside("worked by hand: mass times load factor", quantity="pull of a full tank")
def test_the_pull_of_a_full_tank_is_said_in_newtons():
    """240 x 90 x 70 mm hold 1.21 kg of kerosene, held for 4 g only: 47 of 119 N at 10 g."""
    fragment = """
    fuel: {oil: 0 %}
    aircraft: {load-factors: {positive: 8 g}}
    tanks:
      main:
        displaced: 0 %
        fill: 100 %
        empty-mass: null
        fixing: {holds: 4 g}
    """
    (one,) = [one for one in found("tank-breaks-loose", fragment) if one.part == "main"]
    held, pull = (float(word.split()[-1]) for word in one.what.split(" N")[:2])
    assert held == pytest.approx(0.24 * 0.09 * 0.07 * 800.0 * 9.81 * 4, rel=0.03)
    assert pull == pytest.approx(held * 10 / 4, rel=0.03)


def test_an_outlet_nobody_measured_is_a_question_and_not_a_fault():
    """Side and aft outlets without a number are advice; one that looks forward is a fault."""
    for facing, worst in (("aft", Severity.ADVICE), ("forward", Severity.FAULT)):
        fragment = f"outlets: {{vent: {{facing: {facing}, pressure-coefficient: null}}}}"
        assert severities("outlet-in-the-airstream", fragment) == [worst]
    stated = "outlets: {vent: {facing: aft, pressure-coefficient: -0.3}}"
    assert severities("outlet-in-the-airstream", stated) == [Severity.FAULT]


def test_what_a_header_or_a_few_drops_keep_is_not_worth_a_word():
    """A pickup 12 mm up in a corner of a wedge that holds a hundredth of the tank is silent."""
    short = "tanks: {{main: {{ports: {{feed: {{pickup: {{reach: {reach} mm}}}}}}}}}}"
    assert found("pickup-misses-low-corner", short.format(reach=60))
    header = "tanks: {header: {ports: {out: {opens-at: [520 mm, 0 mm, 10 mm]}}}}"
    assert not found("pickup-misses-low-corner", header)


@pytest.mark.parametrize(("gap", "told"), [(20, 1), (49, 1), (51, 0)])
def test_a_battery_stands_clear_of_what_an_outlet_throws_out(gap, told):
    """An outlet lets fuel out: 50 mm from it, where 15 mm do from a tube that holds it."""
    at = f"[{240 + gap + 20} mm, 70 mm, -100 mm]"
    body = f"{{box: {{at: {at}, size: [40 mm, 30 mm, 40 mm]}}}}"
    told_of = found(
        "battery-near-fuel", f"zones: {{pump battery: {{kind: battery, body: {body}}}}}"
    )
    assert sum(one.part == "vent" and one.field == "at" for one in told_of) == told


@pytest.mark.parametrize(("at", "told"), [(310, 0), (340, 1), (260, 1), (419, 1)])
def test_a_baffle_in_the_way_of_a_clunk(at, told):
    """From the port at 300 mm 25 mm are rigid, then 125 mm of hose: a baffle there stops it."""
    told_of = found("clunk-can-jam", f"tanks: {{main: {{baffles: [{{at: {at} mm}}]}}}}")
    assert len(told_of) == told


def test_what_the_other_engine_would_still_burn_is_not_stranded():
    """Starved by a plug the port engine stops; the starboard tank feeds its own engine on."""
    plugged = overlaid("twin-engine", "outlets: {port vent: {plug: {fitted-in-flight: yes}}}")
    assert [one.part for one in said(NAMED["fuel-stranded"], plugged)] == ["port main"]
