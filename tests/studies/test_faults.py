"""Single faults through a flight: as one batch, and by hand where a hand can."""

import json
import math
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent.parent / "simulation"))

from fault_twins import assert_same
from ground_rigs import MM, box, composite, rig

from plumbing.checks.case import Case
from plumbing.checks.registry import checks
from plumbing.checks.run import judge
from plumbing.findings import Severity
from plumbing.hydraulics.solver import solve
from plumbing.layout import load
from plumbing.model.flight import Phase
from plumbing.model.line import Elbow
from plumbing.model.parts import Filter, Plug, Valve
from plumbing.model.tank import Hose, Pickup
from plumbing.network import survey
from plumbing.physics.constants import ATMOSPHERE
from plumbing.report.faults_text import faults_text
from plumbing.report.ground_json import faults_json
from plumbing.simulation.flight import fly
from plumbing.simulation.fluid import fluids_at
from plumbing.simulation.profile import profile_of
from plumbing.studies.fault_batch import Batch, lots
from plumbing.studies.faults import faults
from plumbing.studies.leaky import hole_at

LAYOUTS = Path(__file__).parent.parent.parent / "layouts"
TAXI = Phase(name="taxi", duration=20.0, throttle=0.0, on_ground=True)
CRUISE = Phase(name="cruise", duration=100.0, throttle=1.0)
FULL = 5e-6


def steady(feeding, rows, volume):
    """Flows and pressures of some scenarios in the first stretch."""
    first = np.zeros_like(rows)
    return solve(feeding.plumbed.circuit, feeding.conditions(rows, first, volume))


def system(fill=0.95, **parts):
    """Main, header, pump and engine; the feed has a clunk on a hose."""
    main = box(
        "main",
        (0, 0, 50),
        (100, 100, 100),
        fill=fill,
        wall=composite(collapse=10e3),
        feed=(0, 0, 100),
        top=(-50, 0, 100),
    )
    clunk = Pickup(kind="clunk", reach=0.1, hose=Hose(length=80 * MM, bore=4 * MM), diameter=5 * MM)
    ports = {**main.ports, "feed": replace(main.ports["feed"], pickup=clunk)}
    header = box(
        "header",
        (200, 0, 25),
        (50, 50, 50),
        role="header",
        inlet=(200, 0, 50),
        out=(225, 0, 0),
    )
    lines = {
        "vent": ("main.top", "vent.tube", 200),
        "feed": ("main.feed", "header.inlet", 250),
        "suction": ("header.out", "pump.in", 200),
        "delivery": ("pump.out", "engine.feed", 200),
    }
    return rig(
        [replace(main, ports=ports), header],
        lines,
        outlets={"vent": (-50, 0, 150)},
        pumps={"pump": (300, 0, 50)},
        engines={"engine": (400, 0, 0)},
        **parts,
    )


def found(layout, *phases):
    """Outcomes by kind and part."""
    flown = profile_of("test", phases or (TAXI, CRUISE))
    result = faults(layout, survey(layout), flown)
    return {(one.fault.kind, one.fault.part): one for one in result.outcomes}


def laid_out(layout, *phases):
    """All lots of faults, laid out for a flight."""
    found, profile = survey(layout), profile_of("test", phases)
    return [lot.batch(layout, found, profile) for lot in lots(layout, found)]


def test_every_fault_is_flown_in_a_batch():
    """The first scenario is the flight without a fault, each further one has one fault.

    Leaks are a batch of their own: their network has holes.
    """
    layout = system()
    made = laid_out(layout, TAXI, CRUISE)
    assert all(len(one.start) == len(one.effects) + 1 for one in made)
    assert all(one.leak for one in made[1].effects)
    kinds = {one.fault.kind for some in made for one in some.effects}
    assert kinds >= {
        "vent blocked",
        "line pinched",
        "pickup off",
        "clunk stuck",
        "soft tube flat",
        "air leak",
        "tank not filled",
        "header with air",
        "pump weak",
    }


def test_without_a_fault_the_batch_is_the_flight():
    """The batch's first scenario ends with the fuel a plain flight ends with."""
    layout = load(str(LAYOUTS / "single-main.yaml"))
    surveyed = survey(layout)
    result = faults(layout, surveyed)
    flown = fly(layout, surveyed)
    assert result.nominal_stops == {
        name: when for name, when in flown.flame_out.items() if when is not None
    }
    assert result.duration == pytest.approx(flown.profile.length)


@pytest.mark.outside("Boyle's law", quantity="time until a tank folds behind a blocked vent")
def test_blocked_vent_folds_the_tank_by_the_gas_law():
    """With the vent blocked the air stretches as fuel is drawn; the wall folds at its suction."""
    one = found(system())[("vent blocked", "vent")]
    air = 0.05e-3
    drawn = air * 10e3 / (ATMOSPHERE - 10e3)
    taxi = 20.0 * 1e-6
    when = drawn / 1e-6 if drawn < taxi else 20.0 + (drawn - taxi) / FULL
    assert one.folds["main"] == pytest.approx(when, rel=0.05)
    assert one.severity is Severity.UNSAFE


def test_main_not_filled_stops_when_the_header_is_dry():
    """With the main empty the engine runs on the header alone: volume over flow."""
    one = found(system())[("tank not filled", "main")]
    header = 0.125e-3
    expected = 20.0 + (header - 20.0 * 1e-6) / FULL
    assert one.stops["engine"] == pytest.approx(expected, rel=0.05)


def test_header_with_air_is_missed_by_half_its_volume():
    """Half a header of air costs half a header of fuel, and no more if nothing is uncovered."""
    one = found(system())[("header with air", "header")]
    assert one.stops == {}
    assert one.severity is Severity.ADVICE
    assert one.short == pytest.approx(0.0625e-3, rel=1e-3)


def test_pickup_that_came_off_takes_air_from_the_top():
    """Off its hose, the port at the lid draws air at once; the header then runs out."""
    one = found(system(fill=0.8))[("pickup off", "main.feed")]
    expected = 20.0 + (0.125e-3 - 20.0 * 1e-6) / FULL
    assert one.stops["engine"] == pytest.approx(expected, rel=0.06)
    assert one.stranded == pytest.approx(0.8e-3, rel=0.02)


@pytest.mark.slow
def test_pickup_that_came_off_the_far_tank_keeps_its_fuel_from_the_engine():
    """What lies below the open port is out of reach, as a flight without that pickup strands it."""
    layout = load(str(LAYOUTS / "chained-pair.yaml"))
    surveyed = survey(layout)
    outcomes = {(o.fault.kind, o.fault.part): o for o in faults(layout, surveyed).outcomes}
    one = outcomes[("pickup off", "port.feed")]
    port = layout.tanks["port"]
    bare = replace(port.ports["feed"], pickup=None)
    without = replace(
        layout, tanks={**layout.tanks, "port": replace(port, ports={**port.ports, "feed": bare})}
    )
    assert one.stops == {}
    assert one.short == pytest.approx(fly(without, survey(without)).stranded["port"], rel=0.05)
    assert one.severity is Severity.FAULT
    assert "out of reach" in one.does


def test_clunk_stuck_forward_is_as_good_in_level_flight_with_a_full_tank():
    """A clunk held under the lid's height stays in fuel while the tank is nearly full."""
    one = found(system(), TAXI, replace(CRUISE, duration=10.0))[("clunk stuck", "main.feed")]
    assert one.stops == {}


def test_flat_hose_stops_the_engine_at_once():
    """Nothing passes a hose that is folded flat."""
    one = found(system())[("soft tube flat", "main.feed")]
    assert one.stops["engine"] <= 1.0
    assert one.first_air == {}
    assert one.does.startswith("engine stops at once")


@pytest.mark.outside("sharp orifice, by hand", quantity="air drawn in by a leak")
@pytest.mark.parametrize("name", ["single-main", "teed-pair", "wings-into-main"])
def test_leak_is_solved_with_the_network(name):
    """What comes through the hole is what its suction draws: Bernoulli with 0.6, by hand."""
    layout = load(str(LAYOUTS / f"{name}.yaml"))
    made = laid_out(layout, CRUISE)[1]
    rows = np.arange(1, len(made.start))
    state = steady(made.feeding, rows, made.start[rows])
    circuit = made.feeding.plumbed.circuit
    gas = float(made.feeding.fluids.gas_density[0])
    drew = 0
    for row, one in enumerate(made.effects):
        branch = circuit.branches.index(hole_at(one.leak))
        suction = -state.pressure[row, circuit.nodes.index(one.leak)]
        flow = state.flow[row, branch]
        if suction > 1.0:
            by_hand = 0.6 * math.pi / 4 * 0.3e-3**2 * math.sqrt(2 * suction / gas)
            assert flow == pytest.approx(by_hand, rel=1e-3)
            drew += 1
        others = [
            b for b, n in enumerate(circuit.branches) if n.startswith("leak at ") and b != branch
        ]
        assert not state.flow[row, others].any()
    assert drew or name != "single-main"
    assert state.converged.all()


def test_leak_stands_where_the_joint_is():
    """A joint before the filter feels less suction than one behind it, by the filter's drop."""
    layout = load(str(LAYOUTS / "single-main.yaml"))
    made = laid_out(layout, CRUISE)[1]
    zero = np.zeros(1, dtype=np.intp)
    state = steady(made.feeding, zero, made.start[zero])
    nodes = made.feeding.plumbed.circuit.nodes
    assert {one.leak for one in made.effects} <= set(nodes)
    suction = {one.fault.part: -state.pressure[0, nodes.index(one.leak)] for one in made.effects}
    assert suction["screen to pump"] > suction["feed"]


def test_leak_before_the_pump_brings_air_at_once():
    """A joint between header and pump that leaks under suction gives the pump a mix."""
    one = found(system())[("air leak", "suction")]
    assert "pump" in one.first_air
    assert one.severity in (Severity.FAULT, Severity.UNSAFE)


def test_leak_under_pressure_draws_nothing():
    """Where the fuel stands over the joint no air comes in."""
    layout = system()
    pump = replace(layout.pumps["pump"], at=(0.3, 0.0, -0.5))
    one = found(replace(layout, pumps={"pump": pump}))[("air leak", "suction")]
    assert one.first_air == {}
    assert one.severity is None


def test_weak_pump_draws_three_quarters():
    """A weak pump draws less, and so with less suction."""
    one = found(system())[("pump weak", "pump")]
    assert one.stops == {}
    assert one.severity is None


def test_pinched_line_raises_the_suction():
    """A pinch adds its own loss at full flow: more than the tube's, by the fourth power."""
    one = found(system())[("line pinched", "suction")]
    assert one.suction_change > 100.0


@pytest.mark.slow
def test_worst_comes_first():
    """Outcomes are ranked: what stops an engine in the air before what only raises suction."""
    layout = load(str(LAYOUTS / "twin.yaml"))
    result = faults(layout, survey(layout))
    ranks = [3 if one.severity is None else one.severity.rank for one in result.outcomes]
    assert ranks == sorted(ranks)


@pytest.mark.slow
def test_faults_of_one_side_leave_the_other_alone():
    """In a twin with two half-systems no fault stops both engines."""
    layout = load(str(LAYOUTS / "twin.yaml"))
    result = faults(layout, survey(layout))
    assert all(len(one.stops) <= 1 for one in result.outcomes)


@pytest.mark.slow
def test_outcomes_are_finite():
    """No not-a-number reaches a result."""
    layout = load(str(LAYOUTS / "chained-pair.yaml"))
    for one in faults(layout, survey(layout)).outcomes:
        numbers = [
            *one.stops.values(),
            *one.first_air.values(),
            *one.suction.values(),
            *one.tank_suction.values(),
            one.suction_change,
            one.stranded,
            one.short,
        ]
        assert np.isfinite(numbers).all()


SAG = 0.2  # low point of a vent under its outlet [m]


def trunk():
    """Two teed mains, a filter, three lines one after the other, a check valve in one vent."""
    tanks = [
        box(
            name,
            (0, y, 30),
            (150, 80, 60),
            fill=0.9,
            wall=composite(collapse=3e3),
            feed=(0, y, 0.001),
            top=(0, y, 60),
        )
        for name, y in (("near", -60), ("far", 60))
    ]
    clunk = Pickup(kind="clunk", reach=0.05, diameter=5 * MM)
    far = tanks[1]
    ports = {**far.ports, "feed": replace(far.ports["feed"], at=(0.0, 0.06, 0.03), pickup=clunk)}
    tanks[1] = replace(far, ports=ports)
    lines = {
        "near vent line": ("near.top", "near vent.tube", 100),
        "far vent line": ("far.top", "far vent.tube", 400, [(0, 60, 90 - 1e3 * SAG)]),
        "near branch": ("near.feed", "tee.run-a", 300),
        "far branch": ("far.feed", "tee.branch", 400),
        "trunk": ("tee.run-b", "strainer.in", 200),
        "suction": ("strainer.out", "pump.in", 400),
        "delivery": ("pump.out", "engine.feed", 200),
    }
    parts = {
        "outlets": {"near vent": (0, -60, 90), "far vent": (0, 60, 90)},
        "tees": {"tee": (100, 0, 0)},
        "pumps": {"pump": (300, 0, 0)},
        "engines": {"engine": (400, 0, 0)},
    }
    made = rig(tanks, lines, **parts)
    strainer = Filter(
        name="strainer",
        at=(0.12, 0.0, 0.0),
        bore=4e-3,
        clean_drop=1e3,
        dirty_drop=4e3,
        drop_flow=FULL,
    )
    soft = replace(made.tubes["tube"], hardness=60.0)
    return replace(made, tubes={"tube": soft}, filters={"strainer": strainer})


def with_tank(layout, name, **changes):
    """The same with one tank changed."""
    return replace(layout, tanks={**layout.tanks, name: replace(layout.tanks[name], **changes)})


def with_line(layout, name, **changes):
    """The same with one line changed."""
    return replace(layout, lines={**layout.lines, name: replace(layout.lines[name], **changes)})


def plugged(layout):
    """The plug is left in."""
    near = replace(layout.outlets["near vent"], plug=Plug(fitted_in_flight=True))
    return replace(layout, outlets={**layout.outlets, "near vent": near})


def narrowed(layout):
    """A line has a restrictor of 40 % of its bore, as long as a pinch."""
    return with_line(layout, "suction", fittings=(Elbow(kind="restrictor", bore=1.6 * MM),))


def shut(layout):
    """The line is closed by a valve."""
    valve = Valve(name="cock", at=(0.05, -0.06, 0.0), bore=4 * MM, kind="shut-off", flight="closed")
    lines = dict(layout.lines)
    near = lines.pop("near branch")
    lines["near branch"] = replace(near, to="cock.in")
    lines["on"] = replace(near, name="on", from_="cock.out")
    return replace(layout, lines=lines, valves={"cock": valve})


def held_back(layout):
    """Air comes in through a check valve that opens at the weight of the fuel in the low point."""
    valve = Valve(
        name="flap",
        at=(0.0, 0.06, 0.09),
        bore=4 * MM,
        kind="check",
        cracking_pressure=SAG * 9.80665 * density(layout),
    )
    lines = dict(layout.lines)
    vent = lines.pop("far vent line")
    lines["far vent line"] = replace(vent, from_="far vent.tube", to="flap.in", route=())
    lines["on"] = replace(vent, name="on", from_="flap.out", to="far.top", route=())
    return replace(layout, lines=lines, valves={"flap": valve})


def density(layout):
    """Of the fuel at its usual temperature [kg/m3]."""
    warmth = np.array([layout.fuel.temperature.usual])
    return float(fluids_at(layout, warmth).liquid_density[0])


def choked(layout):
    """The filter is bought as it will be when due for change."""
    strainer = replace(layout.filters["strainer"], clean_drop=4e3, dirty_drop=None)
    return replace(layout, filters={"strainer": strainer})


def bare(layout):
    """The tank has no clunk."""
    far = layout.tanks["far"]
    ports = {**far.ports, "feed": replace(far.ports["feed"], pickup=None)}
    return with_tank(layout, "far", ports=ports)


def turned(layout):
    """Two lines change places at the tee."""
    made = with_line(layout, "near branch", to="tee.branch")
    return with_line(made, "far branch", to="tee.run-a")


def slow(layout):
    """The engine asks for three quarters."""
    engine = layout.engines["engine"]
    less = replace(engine, full_flow=0.75 * engine.full_flow, idle_flow=0.75 * engine.idle_flow)
    return replace(layout, engines={"engine": less})


BY_HAND = {
    ("vent blocked", "near vent"): plugged,
    ("line pinched", "suction"): narrowed,
    ("soft line flat", "near branch"): shut,
    ("vent slugged with fuel", "far vent line"): held_back,
    ("filter dirty", "strainer"): choked,
    ("pickup off", "far.feed"): bare,
    ("tee reversed", "tee"): turned,
    ("tank not filled", "near"): lambda layout: with_tank(layout, "near", fill=0.0),
    ("pump weak", "pump"): slow,
}


@pytest.fixture(scope="module")
def trunk_outcomes():
    """Every fault of the trunk, flown together."""
    return found(trunk(), TAXI, replace(CRUISE, duration=180.0))


@pytest.mark.outside("second method: the layout changed by hand", quantity="a fault in flight")
@pytest.mark.parametrize("fault", BY_HAND)
def test_a_fault_is_the_flight_of_a_layout_changed_by_hand(trunk_outcomes, fault):
    """Engines stop within half a second, suction and pressures in the tanks within 1 %."""
    profile = profile_of("test", (TAXI, replace(CRUISE, duration=180.0)))
    changed = BY_HAND[fault](trunk())
    assert_same(trunk_outcomes[fault], changed, profile, {"pump": "engine"})


@pytest.mark.outside("second method: the layout changed by hand", quantity="a fault in flight")
def test_a_pickup_that_came_off_takes_its_hose_along():
    """A clunk on a hose narrower than the line: without it, all is as with a bare port."""
    layout = trunk()
    far = layout.tanks["far"]
    hose = Hose(length=0.05, bore=2.5 * MM)
    clunk = replace(far.ports["feed"].pickup, hose=hose, clean_drop=500.0)
    ports = {**far.ports, "feed": replace(far.ports["feed"], pickup=clunk)}
    layout = with_tank(layout, "far", ports=ports)
    phases = TAXI, replace(CRUISE, duration=120.0)
    outcome = found(layout, *phases)[("pickup off", "far.feed")]
    assert_same(outcome, bare(layout), profile_of("test", phases), {"pump": "engine"})


def test_a_fault_that_cannot_be_computed_is_not_harmless(monkeypatch):
    """It is told with its reason and time, in text and JSON; checks that read faults hear of it."""
    usual = Batch.balancing

    def balancing(self):
        balance = usual(self)

        def lost(rows, stretch, *held):
            one = balance(rows, stretch, *held)
            return replace(one, met=one.met & ((rows != 1) | (stretch < 1)))

        return lost

    monkeypatch.setattr(Batch, "balancing", balancing)
    layout = trunk()
    result = faults(layout, survey(layout), profile_of("test", (TAXI, CRUISE)))
    reasons = [one.why.reason for one in result.unknown]
    assert reasons[0].endswith("was found after 20 s, in cruise")
    assert not {one.fault for one in result.unknown} & {one.fault for one in result.outcomes}
    assert reasons[0] in " ".join(faults_text(layout, result, width=400).split())
    told = json.loads(faults_json(result))["not_computed"]
    assert [one["reason"] for one in told] == reasons
    other = replace(layout.engines["engine"], name="other")
    twin = replace(layout, engines={**layout.engines, "other": other})
    twin = with_line(twin, "delivery", to="split.run-a")
    ways = {
        "one": replace(layout.lines["delivery"], name="one", from_="split.run-b", to="engine.feed"),
        "two": replace(layout.lines["delivery"], name="two", from_="split.branch", to="other.feed"),
    }
    split = replace(layout.tees["tee"], name="split", at=(0.35, 0.0, 0.0))
    twin = replace(twin, lines={**twin.lines, **ways}, tees={**twin.tees, "split": split})
    check = next(one for one in checks() if one.name == "one-fault-stops-every-engine")
    unchecked = judge(Case(twin), [check]).unchecked
    assert any("no steady state" in one.why.reason for one in unchecked)
