"""Signs, factors and second limits that nothing else in the checks would notice if they were wrong.

The numbers are common practice, the geometry is worked by hand.
"""

import pytest
from overlay import overlaid, said

from plumbing.checks.kit import Case, Found, Severity
from plumbing.checks.registry import checks
from plumbing.checks.run import asked

NAMED = {check.name: check for check in checks()}


def found(name: str, fragment: str) -> list[Found]:
    """What one check finds in the single main with a fragment laid over it."""
    layout = overlaid("single-main", fragment)
    return [one for one in said(NAMED[name], layout) if isinstance(one, Found)]


def severities(name: str, fragment: str) -> list[Severity]:
    """How bad each finding is."""
    return [one.severity or NAMED[name].severity for one in found(name, fragment)]


@pytest.mark.parametrize(
    ("diameter", "worse"), [(34, [Severity.UNSAFE]), (36, [Severity.ADVICE]), (40, [])]
)
def test_header_of_fifteen_and_of_twenty_seconds(diameter, worse):
    """60 mm of 34, 36 and 40 mm diameter hold 14.9, 16.7 and 20.6 s of 220 ml/min."""
    fragment = f"""
    tanks:
      header:
        displaced: 0 %
        shape: {{cylinder: {{diameter: {diameter} mm}}}}
        ports: {{out: {{at: [{520 + diameter / 2} mm, 0 mm, -12 mm]}}}}
    """
    assert severities("header-too-small", fragment) == worse


@pytest.mark.parametrize(("limit", "severity"), [(0.30, Severity.UNSAFE), (0.40, Severity.FAULT)])
def test_two_and_a_half_times_the_air_is_not_to_be_flown(limit, severity):
    """86 % of air is more than 2.5 times 30 % and less than 2.5 times 40 %."""
    check = NAMED["air-fills-header-in-flight"]
    (one,) = asked(check, Case(overlaid(check.starter, check.bad)), limit)
    assert isinstance(one, Found)
    assert (one.severity or check.severity) == severity


@pytest.mark.parametrize(("gap", "moving", "near"), [(24, "yes", 1), (26, "yes", 0), (26, "no", 1)])
def test_moving_air_halves_the_distance_of_a_tank_to_heat(gap, moving, near):
    """25 mm where air moves, 50 mm where it does not; the main's wall ends at x = 421.5 mm."""
    fragment = f"""
    zones:
      engine case:
        shielded: no
        clearance: null
        airflow: {moving}
        body: {{box: {{at: [{421.5 + gap + 5} mm, 0 mm, 25 mm], size: [10 mm, 10 mm, 10 mm]}}}}
    """
    assert sum(one.part == "main" for one in found("tank-near-hot-part", fragment)) == near


@pytest.mark.parametrize(("height", "in_air"), [(9, False), (11, True)])
def test_outlet_above_the_middle_of_the_header(height, in_air):
    """The middle of the header is at 10 mm: air gathers above it, not below."""
    fragment = f"tanks: {{header: {{ports: {{out: {{at: [542.5 mm, 0 mm, {height} mm]}}}}}}}}"
    said_above = [one for one in found("header-outlet-in-air", fragment) if "above" in one.what]
    assert bool(said_above) == in_air


@pytest.mark.parametrize(("apart", "through"), [(14, True), (16, False)])
def test_inlet_fifteen_millimetres_from_the_outlet(apart, through):
    """Bubbles pass straight through a header whose inlet opens by its outlet."""
    fragment = f"tanks: {{header: {{ports: {{out: {{at: [520 mm, {apart} mm, 40 mm]}}}}}}}}"
    said_near = [one for one in found("header-outlet-in-air", fragment) if "bubbles" in one.what]
    assert bool(said_near) == through


@pytest.mark.parametrize(("drop", "much"), [(19, False), (21, True)])
def test_drop_of_a_filter_on_the_pressure_side(drop, much):
    """20 kPa clean after the pump."""
    fragment = f"filters: {{fine filter: {{clean-drop: {drop} kPa, dirty-drop: 30 kPa}}}}"
    assert bool(found("filter-drop-too-high", fragment)) == much


@pytest.mark.parametrize(("width", "long"), [(64, False), (65, True)])
def test_fuel_runs_only_in_a_tank_over_a_litre_and_a_half(width, long):
    """260 x 90 x 64 mm is 1.498 litres, 260 x 90 x 65 mm 1.521."""
    fragment = f"""
    tanks: {{main: {{shape: {{box: {{size: [260 mm, 90 mm, {width} mm]}}}},
      ports: {{feed: {{at: [300 mm, 0 mm, {25 + width / 2} mm]}},
        vent: {{at: [200 mm, 30 mm, {25 + width / 2} mm],
          opens-at: [196 mm, 30 mm, {24 + width / 2} mm]}},
        fill: null}}}}}}
    """
    assert bool(found("long-tank-without-baffle", fragment)) == long


@pytest.mark.parametrize(("snag", "jams"), [(150, True), (151, False)])
def test_clunk_that_reaches_what_it_can_catch_on(snag, jams):
    """A clunk of 150 mm reach jams at 150 mm and not at 151 mm."""
    fragment = f"tanks: {{main: {{ports: {{feed: {{pickup: {{snag: {snag} mm}}}}}}}}}}"
    assert bool(found("clunk-can-jam", fragment)) == jams


@pytest.mark.parametrize(("x", "swallowed"), [(940, True), (1140, False)])
def test_only_an_outlet_ahead_of_the_intake_feeds_it(x, swallowed):
    """122 mm from the intake at x = 1040 mm: ahead of it the fuel is drawn in, behind it not."""
    fragment = f"outlets: {{vent: {{at: [{x} mm, 70 mm, 10 mm]}}}}"
    ahead = [one for one in found("outlet-near-hot-part", fragment) if "intake" in one.what]
    assert bool(ahead) == swallowed


@pytest.mark.parametrize(("coefficient", "does"), [(0.5, "presses"), (-0.5, "sucks")])
def test_sign_of_the_pressure_at_an_outlet(coefficient, does):
    """A positive coefficient presses on the fuel, a negative one sucks."""
    fragment = f"outlets: {{vent: {{pressure-coefficient: {coefficient}}}}}"
    (one,) = found("outlet-in-the-airstream", fragment)
    assert f" {does} at outlet vent " in one.what


@pytest.mark.parametrize(("y", "side"), [(30, "starboard"), (-30, "port")])
def test_side_to_which_the_aircraft_rolls(y, side):
    """Starboard is positive y: weight there rolls to starboard."""
    rolls = found("lateral-moment-too-high", f"aircraft: {{dry-cg: [372 mm, {y} mm, 20 mm]}}")
    assert rolls
    assert all(f"rolls to {side} " in one.what for one in rolls)


@pytest.mark.parametrize(
    ("share", "worse"), [(0.029, []), (0.031, [Severity.ADVICE]), (0.051, [Severity.FAULT])]
)
def test_travel_of_three_and_of_five_per_cent(share, worse):
    """3 % of the mean chord is good and 5 % the most; the chord is chosen to give the share."""
    name = "cg-travels-too-far"
    (one,) = found(name, "aircraft: {mean-chord: 20 mm}")
    assert one.measured is not None
    chord = one.measured.value * 20.0 / share
    assert severities(name, f"aircraft: {{mean-chord: {chord:.4f} mm}}") == worse


@pytest.mark.parametrize(
    ("radius", "worse"),
    [(19, [Severity.FAULT]), (21, [Severity.ADVICE]), (47, [Severity.ADVICE]), (49, [])],
)
def test_radius_that_kinks_and_radius_under_suction(radius, worse):
    """Tube of 6 mm stands 20 mm by a valve maker's manual; eight diameters are 48 mm."""
    assert severities("bend-too-tight", f"lines: {{feed: {{bend-radius: {radius} mm}}}}") == worse


@pytest.mark.parametrize(("pitch", "floods"), [(15, True), (0, True), (-15, False)])
def test_sign_of_the_pitch_over_a_parked_engine(pitch, floods):
    """The tank lies 0.6 m ahead of the engine: 15 degrees nose up lift it over the engine.

    Nose down 15 degrees the engine stands 0.76 sin 15, 197 mm, higher, and the fuel is below it.
    """
    fragment = f"""
    parking: {{stand: {{pitch: {pitch} deg, fuel: 100 %, shut-off-closed: no}}}}
    valves: {{fuel valve: {{unpowered: open}}}}
    """
    heads = [
        one for one in found("engine-below-fuel-with-valve-open", fragment) if one.part == "stand"
    ]
    assert bool(heads) == floods


def test_only_the_last_tank_and_none_count_as_coming_home():
    """Dry 9.2 kg at 250 mm; 1.2 kg of fuel at 300 mm move it to 257 mm, the header's to 252 mm.

    The aft limit is 259 mm and 1 % of 340 mm before it 255.6 mm: only the full aircraft is beyond.
    """
    fragment = """
    aircraft: {dry-cg: [250 mm, 0 mm, 20 mm], dry-cg-gear-up: [250 mm, 0 mm, 26 mm],
      cg-limits: [240 mm, 259 mm]}
    """
    assert found("tail-heavy-when-empty", fragment) == []
    assert found("tail-heavy-when-empty", fragment.replace("259 mm", "254 mm"))


def test_dry_pickup_that_stands_higher_is_pulled_harder():
    """50 mm of fuel at 7 g are 2.7 kPa, more than the 1.7 kPa that pores of 60 um hold."""
    fragment = """
    tanks:
      port: {ports: {feed: {pickup: {swings: null, pore: 60 um, rest: [300 mm, -60 mm, 25 mm]}}}}
      starboard:
        {ports: {feed: {pickup: {swings: null, pore: 60 um, rest: [300 mm, 60 mm, -25 mm]}}}}
    aircraft: {load-factors: {positive: 7 g, negative: 0 g, forward: 0 g, braking: 0 g}}
    """
    layout = overlaid("teed-pair", fragment)
    pulled = {
        one.part: one.measured.value
        for one in said(NAMED["teed-pickups-draw-air"], layout)
        if isinstance(one, Found) and one.measured is not None
    }
    by_hand = 805.0 * 7.0 * 9.80665 * 0.050
    assert pulled["port"] > 0.95 * by_hand
    assert pulled.get("starboard", 0.0) < pulled["port"]


def test_clunk_through_the_lid_has_no_end_wall_before_it():
    """A port in the lid, 10 mm behind the front wall: the 230 mm to the back wall do not count."""
    fragment = """
    tanks: {main: {ports: {feed: {at: [190 mm, 0 mm, 60 mm], pickup: {reach: 228 mm}}}}}
    """
    assert found("clunk-touches-wall", fragment) == []


@pytest.mark.parametrize(
    ("capacity", "wrong"), [(1.46, True), (1.48, False), (1.55, False), (1.56, True)]
)
def test_stated_capacity_within_three_per_cent_either_way(capacity, wrong):
    """240 x 90 x 70 mm hold 1.512 litres: 1.467 to 1.557 litres may be stated."""
    fragment = f"tanks: {{main: {{displaced: 0 %, capacity: {capacity} L}}}}"
    assert bool(found("capacity-not-as-stated", fragment)) == wrong


def test_depth_of_a_low_point_is_upright():
    """From 60 mm down to -20 mm and up again is a sag of 80 mm, wherever it lies sideways."""
    fragment = """
    lines:
      vent: {route: [[260 mm, 60 mm, -20 mm], [300 mm, 90 mm, 110 mm], [240 mm, 90 mm, 40 mm]]}
    """
    (one,) = found("low-point-in-vent", fragment)
    assert one.measured is not None
    assert one.measured.value == pytest.approx(0.080)


def test_rubber_in_a_push_in_fitting_is_a_fault():
    """Hose of 60 Shore A is rubber, which no source would push in."""
    fragment = "{joints: {barb-4: {kind: push-in}}, lines: {feed: {tube: fluoroelastomer 6.4x4}}}"
    assert Severity.FAULT in severities("tube-too-soft-for-push-in", fragment)


def test_finest_of_two_filters_is_named():
    """Of two filters after the pump the one of 50 um is the nearest to the 40 um wanted."""
    fragment = """
    filters:
      fine filter: {pore: 50 um}
      second: {at: [890 mm, 0 mm, -20 mm], bore: 2.5 mm, pore: 100 um}
    lines:
      filter to valve: {to: second.in}
      second to valve: {from: second.out, to: fuel valve.in, tube: nylon 4x2.5}
    """
    assert [one.part for one in found("no-fine-filter-before-engine", fragment)] == ["fine filter"]


def test_air_leaves_by_the_highest_way_out():
    """A second way out at half the height of the header keeps no air while the top is open."""
    fragment = """
    tanks:
      header: {ports: {side: {at: [498 mm, 0 mm, 10 mm], bore: 3.6 mm}}}
      main: {ports: {side: {at: [420 mm, 0 mm, 20 mm], bore: 3.6 mm}}}
    lines: {side: {from: header.side, to: main.side, tube: polyurethane 6x4}}
    """
    assert found("header-not-purged", fragment) == []
