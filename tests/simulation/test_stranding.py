"""What the tool is for: where the fuel of two tanks goes, held to pencil and paper."""

import math
from dataclasses import replace

import numpy as np
import pytest
from flight_rigs import FLOOR, ML, PER_MINUTE, chained, flown, steady, teed

from plumbing.hydraulics.solver import solve
from plumbing.network import survey
from plumbing.simulation.flight import feeding_for

G = 9.80665
SIZE = (150, 80, 60)  # [mm]
FLOW = 160.0 * PER_MINUTE
AREA = 0.150 * 0.080
HEIGHT = 0.060


def stranded_by_hand(near, far, viscosity, density, bore=4e-3):
    """Fuel in the far tank when the near one runs dry [m3], laminar tube alone.

    With R the resistance of a branch and d the difference of the levels,
    R1 q1 - R2 q2 = - rho g d and q1 + q2 = q; d grows as (q1 - q2) / A.
    """
    r1, r2 = (128.0 * viscosity * length / (math.pi * bore**4) for length in (near, far))
    final = (r2 - r1) * FLOW / (2.0 * density * G)
    tau = (r1 + r2) * AREA / (2.0 * density * G)
    times = np.linspace(0.0, 2.0 * AREA * HEIGHT / FLOW, 100_001)
    difference = final * (1.0 - np.exp(-times / tau))
    near_level = HEIGHT - FLOW * times / (2.0 * AREA) - 0.5 * difference
    dry = int(np.argmax(near_level <= 0.0))
    return AREA * float(difference[dry])


@pytest.mark.quick("0.3-0.6")
@pytest.mark.outside("worked by hand: laminar branches, falling levels", quantity="stranded fuel")
@pytest.mark.parametrize(("near", "far"), [(0.3, 0.9), (0.3, 0.6), (0.2, 1.2)])
def test_unequal_branches_strand_what_the_levels_differ_by(near, far):
    """When fuel fails the engine, the far tank is higher by the difference of drops.

    The near surface then stands within the bore of its port, so levels are compared.
    """
    flight = flown(teed(1e3 * near, 1e3 * far), steady(900.0))
    hand = stranded_by_hand(near, far, viscosity=1.307e-3, density=795.3)
    apart = flight.stranded["far"] - flight.stranded["near"]
    assert apart == pytest.approx(hand, rel=0.10)
    assert flight.stranded["near"] < AREA * 4e-3  # what lies under the bore of its pickup


@pytest.mark.outside(
    "common practice: teed pairs without care use 60-90 %", quantity="usable share"
)
@pytest.mark.quick("None")
@pytest.mark.parametrize("header", [None, (50, 50, 60)])
def test_teed_pair_strands_about_a_fifth(header):
    """Branches of 0.3 m and 0.9 m and 4 mm bore strand about a fifth at 160 ml/min."""
    flight = flown(teed(300, 900, header=header), steady(1200.0))
    mains = 2.0 * AREA * HEIGHT
    left = flight.stranded["near"] + flight.stranded["far"]
    assert 0.12 < left / mains < 0.25
    assert flight.order[0][0] == "near"


def test_chained_pair_strands_next_to_nothing():
    """The same tanks in a chain give all but what lies under the pickups' bores."""
    flight = flown(chained(), steady(900.0))
    under_bores = 2.0 * AREA * 4e-3
    assert sum(flight.stranded.values()) < under_bores
    assert [name for name, _ in flight.order] == ["far", "near"]


def test_equal_branches_cure_the_tee():
    """Branches of one length empty both tanks alike."""
    flight = flown(teed(600, 600), steady(900.0))
    near, far = flight.stranded["near"], flight.stranded["far"]
    assert near == pytest.approx(far, abs=0.1 * ML)
    assert near + far < 2.0 * AREA * 4e-3


@pytest.mark.slow
def test_fine_pores_cure_the_tee():
    """Pickups that hold air back until 2.6 kPa give all fuel from unequal branches."""
    flight = flown(teed(300, 900, pore=40e-6), steady(900.0))
    assert flight.stranded["near"] + flight.stranded["far"] < 2.0 * AREA * 4e-3
    assert flight.usable > 0.97 * flight.on_board


def test_second_vent_reverses_the_chain():
    """A second open vent, on the near tank, empties that one and the far tank keeps its fuel."""
    flight = flown(chained(second_vent=True), steady(900.0))
    assert flight.order[0][0] == "near"
    assert flight.stranded["far"] > 0.9 * AREA * HEIGHT
    assert flight.stranded["near"] < AREA * 4e-3


def drawn(pore, far=0.5 * AREA * HEIGHT):
    """Feeding and conditions with the near tank empty; the fine pores there are wet but bare."""
    layout = teed(300, 900, pore=pore)
    feeding = feeding_for(layout, survey(layout), steady(60.0))
    none = np.zeros(1, dtype=np.intp)
    volume = np.array([[0.0, far]])
    conditions = feeding.conditions(none, none, volume)
    return feeding, conditions, feeding.balance(none, none, volume)


@pytest.mark.outside("worked by hand: 4 sigma / pore against the drop", quantity="bubble point")
def test_air_breaks_through_exactly_at_the_bubble_point():
    """Pores hold air back as long as 4 sigma / pore exceeds the pressure across them, no longer.

    The far branch then carries all: 128 mu L q / (pi d^4), and 1.2 heads for its developing
    profile, 0.5 + 160 / Re at its mouth, less the fuel standing over its pickup; the tee itself
    adds a leg of its branch. Surface tension of kerosene 26 mN/m.
    """
    feeding, conditions, held = drawn(1e-6)
    solved = solve(feeding.plumbed.circuit, conditions)
    tee = feeding.plumbed.circuit.nodes.index("tee")
    suction = -solved.pressure[0, tee]
    density, viscosity = 795.3, 1.307e-3
    head = 0.5 * density * (FLOW / (math.pi / 4.0 * 4e-3**2)) ** 2
    laminar = 128.0 * viscosity * 0.9 * FLOW / (math.pi * 4e-3**4)
    standing = density * G * (0.5 * HEIGHT - FLOOR * 1e-3)
    assert suction == pytest.approx(laminar + 4.0 * head - standing, abs=4.0 * head)
    across = suction + solved.pressure[0, feeding.plumbed.tank_node[0]]
    assert held.share[0, 0] == 1.0
    _, _, just = drawn(4.0 * 0.026 / (1.0001 * across))
    assert just.share[0, 0] == 1.0
    _, _, broken = drawn(4.0 * 0.026 / (0.9999 * across))
    assert broken.share[0, 0] < 1.0


@pytest.mark.outside("bubble point worked by hand: 4 sigma / pore", quantity="pressure held")
def test_fine_pores_run_dry_in_order():
    """As a fine-pore body falls dry it first holds the more, then gives a mix, then holds gas."""
    layout = teed(300, 900, pore=40e-6)
    feeding = feeding_for(layout, survey(layout), steady(900.0))
    ends = feeding.ends
    pickup = int(np.flatnonzero(ends.pore)[0])
    depth = np.linspace(-0.1, 1.1, 241)  # of the bore that lies in fuel
    volume = np.tile(feeding.tanks.capacity, (len(depth), 1))
    wet = ends.dry[0, pickup] + depth * ends.span[0, pickup]
    volume[:, ends.tank[pickup]] = wet
    level = np.zeros(len(depth), dtype=np.intp)
    share = ends.share(volume, level)[:, pickup]
    tension = np.full(len(depth), 0.0262)
    held = ends.threshold(volume, level, tension)[:, ends.branch[pickup], ends.end[pickup]]
    assert (np.diff(share) >= 0.0).all()
    assert (np.diff(held) <= 0.0).all()
    assert held.max() == pytest.approx(4.0 * 0.0262 / 40e-6, rel=1e-9)
    assert share[depth <= 0.0].max() == 0.0
    assert share[depth > 0.25].min() == 1.0
    assert held[depth > 0.25].max() == pytest.approx(0.0, abs=1e-9)
    assert held[share < 1.0].min() == held.max()  # no gas comes below the bubble point


def test_a_fine_pore_pickup_fed_too_slowly_does_not_stutter():
    """A near tank that gets less than it gives runs on half dry, in steps and not in thousands."""
    layout = chained(pore=40e-6)
    fills = {"far": 0.05, "near": 0.01}
    tanks = {name: replace(tank, fill=fills[name]) for name, tank in layout.tanks.items()}
    flight = flown(replace(layout, tanks=tanks), steady(300.0))
    assert flight.flame_out["pump"] > 5.0
    assert len(flight.history.time) < 100
