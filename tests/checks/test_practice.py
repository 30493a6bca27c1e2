"""What practice finds worth a word and what not: each row was once told wrongly.

All limits and severities here are common practice unless a row says otherwise.
"""

import pytest
from overlay import overlaid

from plumbing.checks.case import Case
from plumbing.checks.registry import checks
from plumbing.checks.run import judge

CHECKS = {check.name: check for check in checks()}
CONNECTORS = "{kind: union, bore: 4 mm}, {kind: elbow-90, bore: 4 mm}, {kind: union, bore: 4 mm}"
SIDE = "outlets: {vent: {facing: %s, pressure-coefficient: null}}"
NARROW = "lines: {shut-off to screen: {tube: polyurethane 4x2.5, joint: barb-3}}\n"
BEHIND = """
lines:
  header to tee: {to: shut-off.in}
  tee to shut-off: {from: shut-off.out, to: fill tee.run-a}
  shut-off to screen: {from: fill tee.run-b}
valves: {shut-off: {at: [600 mm, 0 mm, -12 mm], filling: %s}}
tees: {fill tee: {at: [660 mm, 0 mm, -12 mm]}}
"""
BESIDE = """
zones:
  receiver: {shielded: no, body: {box: {at: [240 mm, 70 mm, %d mm], size: [20 mm, 20 mm, 10 mm]}}}
"""
QUIET = {
    "tube ends are no connectors": ("too-many-suction-connectors", "single-main", "{}"),
    "a line may end at the hot engine": ("line-near-hot-part", "single-main", "{}"),
    "a plain side outlet nobody measured": ("outlet-in-the-airstream", "single-main", None),
    "a clunk of 15 g in a moulded tank": (
        "clunk-too-heavy-for-wall",
        "single-main",
        "tanks: {main: {ports: {feed: {pickup: {mass: 15 g}}}}}",
    ),
    "the mix is oil, in whatever words": (
        "fill-port-without-label",
        "single-main",
        "fill-ports: {fill: {label: Jet A-1 20:1}}",
    ),
    "tanks meant to empty together": (
        "tanks-empty-in-other-order",
        "teed-pair",
        "feed-order: [starboard, port, header]\ntogether: [[port, starboard]]",
    ),
    "teed tanks never come to one full and one empty": (
        "lateral-moment-too-high",
        "teed-pair",
        "{}",
    ),
    "felt pushed through by finer-filtered fuel": ("filter-flushed-backwards", "teed-pair", "{}"),
    "a vent held behind its loop": ("siphons-when-parked", "teed-pair", "{}"),
    "a screen is cleaner than its pickup": (
        "filter-flushed-backwards",
        "teed-pair",
        "filling: {filter-pore: 30 um}",
    ),
    "a receiver 55 mm under the outlet": ("electronics-near-fuel", "single-main", BESIDE % -145),
}
TOLD = {
    "both shut-offs before the fill port": (
        "fill-floods-engine",
        "single-main",
        BEHIND % "open",
        "fault",
    ),
    "shut-off before the fill port, closed": (
        "fill-floods-engine",
        "single-main",
        BEHIND % "closed",
        "fault",
    ),
    "a tube that costs 2 kPa": ("narrow-bore-on-suction-side", "single-main", NARROW, "fault"),
    "a receiver 45 mm under the outlet": (
        "electronics-near-fuel",
        "single-main",
        BESIDE % -135,
        "fault",
    ),
    "felt pushed through by dirtier fuel": (
        "filter-flushed-backwards",
        "teed-pair",
        "filling: {filter-pore: 50 um}",
        "advice",
    ),
    "a wall of polyethylene at 300 kPa": (
        "wall-strength-implausible",
        "single-main",
        "tanks: {main: {wall: {proof-pressure: 300 kPa}}}",
        "fault",
    ),
}
PRACTICE = {
    "inlet-suction-too-high": "unsafe",
    "loaded-suction-too-high": "unsafe",
    "separate-vents-on-teed-tanks": "unsafe",
    "clunk-hose-not-locked": "unsafe",
    "tank-in-disc-plane": "unsafe",
    "tail-heavy-when-empty": "unsafe",
    "no-fine-filter-before-engine": "unsafe",
    "filter-bowl-traps-air": "unsafe",
    "tube-loose-on-barb": "unsafe",
    "bare-passage-edge": "unsafe",
}
"""Fatal by the trade: an engine stop or a fire in flight."""


def severities(check: str, starter: str, fragment: str) -> list[str]:
    """How bad one check finds a starter with a fragment laid over it, each part once."""
    found = judge(Case(overlaid(starter, fragment)), [CHECKS[check]]).findings
    return [str(one.severity) for one in found]


@pytest.mark.parametrize("row", [name for name, one in QUIET.items() if one[2] is not None])
def test_what_is_not_worth_a_word(row):
    """The check that used to speak is silent."""
    assert severities(*QUIET[row]) == []


@pytest.mark.parametrize("row", TOLD)
def test_what_was_passed_over_is_told(row):
    """The check finds it, as bad as practice has it."""
    check, starter, fragment, severity = TOLD[row]
    assert set(severities(check, starter, fragment)) == {severity}


def test_what_is_fatal_by_the_trade_is_unsafe():
    """Checks whose fault stops the engine or feeds a fire in flight."""
    assert {name: str(CHECKS[name].severity) for name in PRACTICE} == PRACTICE


@pytest.mark.parametrize(("limit", "told"), [("10 kPa", []), ("2.5 kPa", ["advice"])])
def test_suction_below_its_limit_is_advice_where_its_band_reaches_it(limit, told):
    """2 kPa, up to 2.8 kPa in its band: of 2.5 kPa four fifths, of the usual 10 kPa a fifth."""
    text = f"limits: {{inlet-suction-too-high: {limit}}}"
    assert severities("inlet-suction-too-high", "single-main", text) == told


@pytest.mark.parametrize(("facing", "told"), [("side", ["advice"]), ("forward", ["fault"])])
def test_an_outlet_is_a_fault_only_where_it_faces_the_stream(facing, told):
    """Nobody measures a plain side outlet: a question, not a fault; a scoop is one at any speed."""
    assert severities("outlet-in-the-airstream", "single-main", SIDE % facing) == told


def test_a_tank_alone_is_stranded_unless_it_is_said_to_hold_no_fuel():
    """A tank that feeds nothing is found in three ways; for smoke oil or taxiing in none."""
    names = ("engine-without-fuel-path", "fill-misses-tank", "fuel-stranded")
    wall = "{kind: blow-moulded, material: polyethylene, thickness: 1.5 mm}"
    text = f"""
    tanks:
      spare:
        role: ROLE
        shape: {{box: {{at: [300 mm, 0 mm, 250 mm], size: [120 mm, 80 mm, 60 mm]}}}}
        wall: {wall}
        ports: {{vent: {{at: [270 mm, 0 mm, 280 mm], bore: 4 mm}}}}
    lines: {{spare vent: {{from: spare.vent, to: spare vent.tube, tube: polyurethane 6x4}}}}
    outlets: {{spare vent: {{at: [270 mm, 150 mm, -80 mm], bore: 4 mm}}}}
    """
    found = {
        role: [
            name for name in names if severities(name, "single-main", text.replace("ROLE", role))
        ]
        for role in ("main", "smoke", "taxi")
    }
    assert found == {"main": list(names), "smoke": [], "taxi": []}


def test_an_engine_fed_from_smoke_oil_is_fed_air():
    """What feeds the engine cannot be passed by calling it smoke oil: there is no fuel in it."""
    case = Case(overlaid("single-main", "tanks: {main: {role: smoke}}"))
    found = {one.check for one in judge(case).findings if str(one.severity) == "unsafe"}
    assert {"air-reaches-pump-in-flight", "engine-stops-in-flight"} <= found


def test_smoke_oil_weighs_and_taxi_fuel_does_not():
    """30 mm x 100 mm x 100 mm of smoke oil, 0.3 L, are a quarter of a kilogram at take-off."""
    aircraft = "aircraft: {max-mass: %s}\n"
    shape = "{box: {at: [300 mm, 0 mm, 250 mm], size: [100 mm, 100 mm, 30 mm]}}"
    ports = "{vent: {at: [270 mm, 0 mm, 265 mm], bore: 4 mm, capped: yes}}"
    spare = f"shape: {shape}, ports: {ports}, fill: 100 %, displaced: 0 %"
    tank = f"tanks: {{spare: {{role: ROLE, {spare}}}}}"
    case = Case(overlaid("single-main", "{}"))
    history = case.flight.history
    full = float(history.mass[0])
    for role, more in (("smoke", 0.24), ("taxi", 0.0)):
        heavier = Case(overlaid("single-main", tank.replace("ROLE", role))).flight.history
        assert float(heavier.mass[0]) - full == pytest.approx(more, abs=0.01)
        check = CHECKS["take-off-mass-too-high"]
        text = aircraft % f"{full + 0.1:.3f} kg" + tank.replace("ROLE", role)
        assert bool(judge(Case(overlaid("single-main", text)), [check]).findings) is (more > 0.0)


@pytest.mark.parametrize(("hole", "told"), [("7.5 mm", ["fault"]), ("9 mm", [])])
def test_a_slanted_tube_must_pass_its_hole(hole, told):
    """At 61 deg to a 3 mm wall a 6 mm tube, bent by 5 deg, needs 6 / cos 24 + 3 tan 24, 7.9 mm.

    A bare hole of 7.5 mm is in the usual range of 7 to 8 mm for it, and it does not go through.
    """
    passage = f"{{diameter: {hole}, grommet: null, edge: bare}}"
    text = f"formers: {{F2: {{passages: {{feed: {passage}}}}}}}\n"
    route = "lines: {feed: {route: [[300 mm, 0 mm, 84 mm], [432 mm, 0 mm, 94 mm], "
    route += "[488 mm, 0 mm, 126 mm], [520 mm, 0 mm, 126 mm]]}}"
    assert severities("oblique-passage", "single-main", text + route) == told


@pytest.mark.parametrize(("times", "sure"), [(0.97, False), (0.9, True)])
def test_what_drains_is_not_known_to_a_hundredth(times, sure):
    """3.02 % left is no more than 3 %; a tenth over its limit is."""
    text = "filling: {drain-pitch: 0 deg}\n"
    case = Case(overlaid("single-main", text))
    check = CHECKS["drain-leaves-fuel"]
    share = judge(case, [check]).findings[0].measured.value
    limit = f"limits: {{drain-leaves-fuel: {100.0 * times * share:.4f} %}}"
    (found,) = judge(Case(overlaid("single-main", text + limit)), [check]).findings
    assert bool(found.doubt) is not sure


def test_a_narrow_tube_is_measured_as_share_of_the_widest():
    """2.5 mm among tubes of 4 mm: 0.625."""
    check = CHECKS["narrow-bore-on-suction-side"]
    (found,) = judge(Case(overlaid("single-main", NARROW)), [check]).findings
    assert found.measured.value == pytest.approx(2.5 / 4.0)
