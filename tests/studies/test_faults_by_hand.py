"""A fault is the flight of a layout in which the same is changed by hand: headers, clunks, leaks.

The other kinds of fault are compared so in `test_faults.py`.
"""

import math
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import brentq

sys.path.insert(0, str(Path(__file__).parent.parent / "simulation"))

from fault_twins import assert_same
from ground_rigs import MM, box, composite, rig

from plumbing.hydraulics.solver import solve
from plumbing.model.flight import Phase
from plumbing.model.line import Elbow
from plumbing.model.parts import Outlet
from plumbing.model.tank import Hose, Pickup
from plumbing.network import survey
from plumbing.simulation.profile import profile_of
from plumbing.studies.fault_batch import lots
from plumbing.studies.faults import faults

PHASES = (Phase(name="cruise", duration=115.0, throttle=1.0),)
REACH = 0.09
CLUNK = 5 * MM
HOLE = 0.3 * MM
CRACKS = 500.0  # opening pressure of the check valve [Pa]


def aircraft():
    """A main with a clunk, a check valve, a fill port, a header, a tap that is shut, two engines.

    The tap stands where a joint of the suction line can leak.
    """
    main = box(
        "main",
        (0, 0, 50),
        (150, 100, 100),
        fill=0.9,
        wall=composite(collapse=10e3),
        feed=(0, 0, 100),
        top=(50, 0, 100),
    )
    clunk = Pickup(kind="clunk", reach=REACH, hose=Hose(length=REACH, bore=4 * MM), diameter=CLUNK)
    main = replace(main, ports={**main.ports, "feed": replace(main.ports["feed"], pickup=clunk)})
    header = box(
        "header",
        (200, 0, 25),
        (50, 50, 50),
        role="header",
        inlet=(200, 0, 50),
        out=(225, 0, 0),
    )
    made = rig(
        [main, header],
        {
            "vent": ("main.top", "vent.tube", 200),
            "feed": ("main.feed", "flap.in", 150),
            "on": ("flap.out", "gallery.run-a", 100),
            "filled": ("gallery.run-b", "header.inlet", 100),
            "filling": ("gallery.branch", "filler.tube", 20),
            "suction": ("header.out", "tap.run-a", 200),
            "tapped": ("tap.branch", "tap cock.in", 20),
            "tap end": ("tap cock.out", "tap outlet.tube", 20),
            "trunk": ("tap.run-b", "split.branch", 200),
            "left": ("split.run-a", "left pump.in", 100),
            "right": ("split.run-b", "right pump.in", 150),
            "left delivery": ("left pump.out", "left engine.feed", 200),
            "right delivery": ("right pump.out", "right engine.feed", 200),
        },
        outlets={"vent": (0, 0, 150), "tap outlet": (230, 40, 0)},
        fill_ports={"filler": (150, 40, 50)},
        tees={"tap": (230, 0, 0), "gallery": (150, 0, 50), "split": (300, 0, 0)},
        valves={"flap": (100, 0, 50), "tap cock": (230, 20, 0)},
        pumps={"left pump": (320, -30, 50), "right pump": (320, 30, 50)},
        engines={"left engine": (400, -30, 0), "right engine": (400, 30, 0)},
    )
    flap = replace(made.valves["flap"], kind="check", cracking_pressure=CRACKS)
    cock = replace(made.valves["tap cock"], flight="closed")
    engines = {name: replace(one, flame_out_gas_share=0.1) for name, one in made.engines.items()}
    return replace(made, valves={"flap": flap, "tap cock": cock}, engines=engines)


def with_part(layout, section, name, **changes):
    """The same with one part changed."""
    parts = getattr(layout, section)
    return replace(layout, **{section: {**parts, name: replace(parts[name], **changes)}})


def with_pickup(layout, **changes):
    """The same with another pickup in the main."""
    ports = layout.tanks["main"].ports
    pickup = replace(ports["feed"].pickup, **changes)
    return with_part(
        layout, "tanks", "main", ports={**ports, "feed": replace(ports["feed"], pickup=pickup)}
    )


def half_a_header(layout):
    """The header begins half full."""
    fill = layout.tanks["header"].fill
    return with_part(layout, "tanks", "header", fill=0.5 * fill)


def hanging(layout):
    """The pickup is a tube that ends where the clunk hangs: its reach below the port."""
    return with_pickup(layout, kind="fixed", swings=False, rest=(0.0, 0.0, 0.1 - REACH))


def flap_shut(layout):
    """A closed valve stands where the check valve was."""
    return with_part(layout, "valves", "flap", kind="shut-off", flight="closed")


def flap_open(layout):
    """The check valve has lost its spring."""
    return with_part(layout, "valves", "flap", cracking_pressure=0.0)


def one_engine(layout):
    """The right engine, which is out, asks for nothing."""
    return with_part(layout, "engines", "right engine", full_flow=0.0, idle_flow=0.0)


def leaking_joint(layout):
    """The tap is open."""
    made = with_part(layout, "valves", "tap cock", flight="open")
    return as_narrow_as_a_leak(made, "tap", "tapped")


def leaking_valve(layout):
    """The fill port is an opening."""
    spout = Outlet(name="filler", at=layout.fill_ports["filler"].at, bore=4 * MM)
    made = replace(layout, fill_ports={}, outlets={**layout.outlets, "filler": spout})
    return as_narrow_as_a_leak(made, "gallery", "filling")


def as_narrow_as_a_leak(made, tee, line):
    """A line from a tee to the outside passes in cruise what a leak would.

    That is a sharp hole with a coefficient of 0.6: the narrow place is found by trial.
    """

    def narrowed(bore):
        return with_part(made, "lines", line, fittings=(Elbow(kind="restrictor", bore=bore),))

    def too_much(bore):
        layout, found = narrowed(bore), survey(made)
        sound = lots(layout, found)[0].batch(layout, found, profile_of("test", PHASES))
        zero = np.zeros(1, dtype=np.intp)
        circuit = sound.feeding.plumbed.circuit
        state = solve(circuit, sound.feeding.conditions(zero, zero, sound.start[zero]))
        suction = -float(state.pressure[0, circuit.nodes.index(tee)])
        branch = next(n for n, name in enumerate(circuit.branches) if line in name.split(" + "))
        by_hole = 0.6 * math.pi / 4 * HOLE**2
        by_hole *= math.sqrt(2 * suction / float(sound.feeding.fluids.gas_density[0]))
        return abs(float(state.flow[0, branch])) - by_hole

    return narrowed(brentq(too_much, 0.5 * HOLE, 3.0 * HOLE, xtol=1e-7))


BY_HAND = {
    ("header with air", "header"): half_a_header,
    ("clunk stuck", "main.feed"): hanging,
    ("soft tube flat", "main.feed"): flap_shut,
    ("air leak", "suction"): leaking_joint,
    ("fill valve leaks", "filler"): leaking_valve,
    ("check valve stuck", "shut"): flap_shut,
    ("check valve stuck", "open"): flap_open,
    ("engine out", "right engine"): one_engine,
}


@pytest.fixture(scope="module")
def outcomes():
    """Every fault, flown together."""
    layout = aircraft()
    result = faults(layout, survey(layout), profile_of("test", PHASES))
    assert not result.unknown
    return result.outcomes


def the_one(outcomes, kind, part):
    """The outcome of a fault; stuck parts are told apart by what is said of them."""
    (one,) = [
        one
        for one in outcomes
        if one.fault.kind == kind
        and (part == one.fault.part or one.fault.what.endswith(f"stuck {part}"))
        and not one.fault.what.endswith("forward")
    ]
    return one


@pytest.mark.outside("second method: the layout changed by hand", quantity="a fault in flight")
@pytest.mark.parametrize("fault", BY_HAND, ids=" ".join)
def test_a_fault_is_the_flight_of_a_layout_changed_by_hand(outcomes, fault):
    """Engines stop within half a second, suction and pressures in the tanks within 1 %."""
    one = the_one(outcomes, *fault)
    engines = {"left pump": "left engine"}
    if fault[0] != "engine out":
        engines["right pump"] = "right engine"
    assert_same(one, BY_HAND[fault](aircraft()), profile_of("test", PHASES), engines)
