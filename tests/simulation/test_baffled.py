"""Fuel behind baffles with small holes: rates and levels by hand."""

from dataclasses import replace

import numpy as np
import pytest
from flight_rigs import FLOOR, PER_MINUTE, flown, single, steady
from ground_rigs import box, rig

from plumbing.model.flight import Phase
from plumbing.model.ground import Filling
from plumbing.model.tank import Baffle, Hole, Pickup
from plumbing.network import survey
from plumbing.physics.constants import GRAVITY
from plumbing.physics.holes import DISCHARGE, RESOLVED, passes_at_once, through_hole
from plumbing.simulation.filling import fill
from plumbing.simulation.levels import gas_kept
from plumbing.simulation.profile import profile_of
from plumbing.simulation.tankage import tankage
from plumbing.simulation.tilt import tilt
from plumbing.studies.faults import faults

LONG, WIDE, TALL = 0.2, 0.1, 0.1  # the tank, a baffle in its middle, the pickup ahead of it [m]
FLOW = 160.0 * PER_MINUTE


def baffled(*holes, flow=160.0, **more):
    """A box of 2 L with a baffle across its middle; holes as height over the floor, diameter."""
    rest = (-90, 0, -500 * TALL + FLOOR)
    layout = single(size=(200, 100, 100), rest=rest, flow=flow, **more)
    made = tuple(Hole(at=(0.0, z - 0.5 * TALL), diameter=size) for z, size in holes)
    tank = replace(layout.tanks["main"], baffles=(Baffle(at=0.0, holes=made),), displaced=0.0)
    return replace(layout, tanks={**layout.tanks, "main": tank})


def area(diameter):
    """Of a round hole [m2]."""
    return np.pi / 4.0 * diameter**2


@pytest.mark.outside("Torricelli's law with a discharge coefficient", quantity="flow of a hole")
@pytest.mark.parametrize(
    ("one", "other", "head"),
    [
        (0.10, 0.02, 0.05),  # falls free: down to the middle of the hole
        (0.10, 0.06, 0.04),  # drowned: down to the lower level
        (0.03, 0.10, -0.05),  # back
        (0.10, 0.10, 0.0),
        (0.04, 0.02, 0.0),  # the hole stands above both
    ],
)
def test_a_hole_passes_what_its_head_lets_it(one, other, head):
    """Free or drowned, over a head that counts: Cd A sqrt(2 g h), to a percent."""
    levels, floor = (np.array([one]), np.array([other])), np.zeros((2, 1))
    given = *levels, floor, np.array([0.05]), np.array([0.002])
    (flow,) = through_hole(*given, np.array([area(4e-3)]), np.array([GRAVITY]))
    jet = 0.61 * area(4e-3) * np.sqrt(2.0 * GRAVITY * abs(head))
    assert flow == pytest.approx(np.sign(head) * jet, rel=0.01)


def test_a_hole_is_smooth_where_levels_meet():
    """Flow goes through zero with the difference in level, and never jumps."""
    levels = np.linspace(0.0, 0.1, 20001)
    flow = through_hole(levels, 0.06 + 0 * levels, np.zeros(2), 0.05, 0.003, area(6e-3), GRAVITY)
    assert np.abs(np.diff(flow)).max() < 1e-3 * np.abs(flow).max()
    assert (np.diff(flow) >= -1e-18).all()


def test_an_empty_side_gives_nothing():
    """Of a hole that the floor cuts, what lies below the floor passes nothing."""
    floor, none = np.array([[0.01], [0.0]]), np.array([0.0])
    shape = np.array([0.01]), np.array([0.004]), np.array([area(8e-3)]), np.array([GRAVITY])
    assert through_hole(np.array([0.01]), none, floor, *shape)[0] == 0.0
    assert through_hole(np.array([0.011]), none, floor, *shape)[0] > 0.0
    assert through_hole(none, none, np.zeros((2, 1)), *shape)[0] == 0.0


@pytest.mark.outside("Torricelli's clock of two vessels", quantity="time until levels meet")
def test_two_compartments_level_out():
    """Joined by a hole that is drowned, levels h apart meet after A h / (Cd a sqrt(2 g h)).

    For two vessels of one plan area A the difference falls by twice the flow over A.
    """
    layout = baffled((0.02, 3e-3), (0.09, 3e-3))
    tanks = tankage(layout, np.array([[0.0, 0.0, -1.0]]))
    plan, hole = 0.5 * LONG * WIDE, area(3e-3)
    zero, felt = np.zeros(1, int), np.array([GRAVITY])
    lying = np.array([[0.8e-3, 0.4e-3]])  # 80 and 40 mm deep
    clock, step = 0.0, 0.05
    while lying[0, 0] - lying[0, 1] > 0.1e-3:  # 10 mm
        lying = lying + step * tanks.seeping(lying, zero, felt)
        clock += step
    speed = 2.0 * DISCHARGE * hole * np.sqrt(2.0 * GRAVITY) / plan
    expected = 2.0 * (np.sqrt(0.04) - np.sqrt(0.01)) / speed
    assert clock == pytest.approx(expected, rel=0.01)
    assert lying.sum() == pytest.approx(1.2e-3, rel=1e-12)


@pytest.mark.outside("hand: half the flow through a hole under its head", quantity="fuel behind")
def test_a_small_hole_holds_fuel_back():
    """Behind a hole of 3 mm at the floor the fuel lags by the head that half the flow needs.

    While both sides sink together half of what the engine burns comes through the hole.
    """
    found = flown(baffled((0.0015, 3e-3), (0.09, 3e-3)), steady(1500))
    head = (0.5 * FLOW / (DISCHARGE * area(3e-3))) ** 2 / (2.0 * GRAVITY)
    row = int(np.searchsorted(found.dry_run.time, 300.0))
    ahead, behind = found.dry_run.lying[row]
    plan = 0.5 * LONG * WIDE
    assert behind - ahead == pytest.approx(plan * head, rel=0.06)
    (pocket,) = found.pockets
    assert pocket.at[0] > -1e-3
    assert plan * head < pocket.volume < plan * (head + 6e-3)
    assert found.books.gone == 0.0
    on_board = sum(found.dry_books.on_board.values())
    kept = sum(found.dry_books.burnt.values()) + sum(found.dry_books.left.values())
    assert kept == pytest.approx(on_board, rel=1e-9)


@pytest.mark.outside("hand: a box of the whole tank", quantity="usable fuel")
def test_wide_holes_change_nothing():
    """Holes that pass the engine's flow without a head make the tank one pool again."""
    wide = flown(baffled((0.01, 20e-3), (0.09, 20e-3)), steady(1500))
    plain = flown(
        single(size=(200, 100, 100), rest=(-90, 0, -50 + FLOOR), flow=160.0), steady(1500)
    )
    assert wide.usable == pytest.approx(plain.usable, rel=0.02)
    assert wide.pockets == ()


@pytest.mark.outside("hand: what lies below the sill", quantity="unusable fuel")
def test_the_tilt_map_gives_fuel_its_time():
    """In time all above the sill of a hole comes through it, however small it is."""
    layout = baffled((0.03, 3e-3), (0.09, 3e-3))
    found = tilt(layout, survey(layout))
    behind = 0.5 * LONG * WIDE * (0.03 - 0.0015)
    film = 0.5 * LONG * WIDE * 4e-3
    assert behind < found.level("main") < behind + film + 1e-6


def test_what_passes_at_once():
    """A hole passes at once what comes through it under a head of `RESOLVED`."""
    hole = area(8e-3)
    most = DISCHARGE * hole * np.sqrt(2.0 * GRAVITY * RESOLVED)
    assert passes_at_once(np.array([hole]), 0.999 * most).all()
    assert not passes_at_once(np.array([hole]), 1.001 * most).any()


@pytest.mark.outside("hand: a compartment above its only hole", quantity="air trapped by filling")
@pytest.mark.parametrize(
    ("holes", "kept"), [(((10, 20),), 0.08), (((12, 8),), 0.084), (((10, 20), (97, 6)), 0.0)]
)
def test_a_compartment_without_an_air_hole_keeps_its_air(holes, kept):
    """Behind a baffle without a hole at the roof air stays above its highest hole."""
    tank = box("main", (0, 0, 0), (200, 100, 100), low=(-90, 0, -50), vent=(-90, 0, 50))
    made = tuple(Hole(at=(0.0, (z - 50) * 1e-3), diameter=size * 1e-3) for z, size in holes)
    tank = replace(tank, baffles=(Baffle(at=0.0, holes=made),), displaced=0.0)
    layout = rig(
        [tank],
        {"fill": ("fill.tube", "main.low", 100), "vent": ("main.vent", "vent.tube", 100)},
        fill_ports={"fill": (-90, 0, -80)},
        outlets={"vent": (-90, 0, 110)},
        filling=Filling(flow=1e-3 / 60),
    )
    found = fill(layout, survey(layout)).tanks["main"]
    assert found.trapped == pytest.approx(0.5 * LONG * WIDE * kept, abs=0.015e-3)
    share, top = gas_kept(tank, [(-0.09, 0.0, 0.05)])
    assert share * 2e-3 == pytest.approx(0.5 * LONG * WIDE * kept, abs=1e-8)
    assert kept == 0.0 or top[0] > -1e-3


@pytest.mark.outside("mass: on board = burnt + left + lost", quantity="books of a flight")
def test_a_full_compartment_does_not_stop_the_run():
    """Pitched with a compartment brim-full, the run goes on in long steps, and books close."""
    phases = [
        Phase(duration=60.0, throttle=1.0, pitch=np.radians(degrees)) for degrees in (31, 0, -40, 5)
    ]
    found = flown(baffled((0.002, 3e-3), (0.09, 3e-3)), profile_of("pitched", phases * 3))
    assert len(found.dry_run.time) < 1200
    for books in (found.books, found.dry_books):
        gone = sum(books.burnt.values()) + sum(books.left.values()) + books.gone
        assert gone == pytest.approx(sum(books.on_board.values()), rel=1e-9)


@pytest.mark.outside("hand: the upper corner of the lower half", quantity="level in a full half")
def test_a_full_compartment_stands_at_its_own_top():
    """Pitched, the lower compartment's surface rises to its own roof and no further."""
    pitch = np.radians(31.0)
    down = np.array([[0.0, 0.0, -1.0], [np.sin(pitch), 0.0, -np.cos(pitch)]])
    tanks = tankage(baffled((0.05, 3e-3)), down)
    one, found = np.ones(1, int), tanks.vessels[0].pools.pockets
    aft = int(found.tree.basin_at(np.array([[0.09, 0.0, 0.0]]), one)[0])
    lying = np.full((1, 2), 0.3 * 0.5 * LONG * WIDE * TALL)
    lying[0, aft] = found.holds[1, aft] * (1.0 + 1e-14)  # as sums round
    assert tanks.levels(lying, one)[0, aft] == pytest.approx(0.5 * TALL * np.cos(pitch), abs=1e-6)


@pytest.mark.outside("mass: what stays is part of what was on board", quantity="stranded fuel")
def test_every_fault_is_flown_behind_baffles():
    """Many flights at once seep as one does, that with a stuck clunk among them."""
    layout = baffled((0.02, 3e-3), (0.09, 3e-3))
    tank = layout.tanks["main"]
    hung = replace(tank.ports["feed"], pickup=Pickup(kind="clunk", reach=0.06, diameter=0.01))
    tank = replace(tank, ports={**tank.ports, "feed": hung})
    layout = replace(layout, tanks={"main": tank})
    found = faults(layout, survey(layout))
    assert len(found.outcomes) > 3
    assert all(0.0 <= one.stranded <= LONG * WIDE * TALL for one in found.outcomes)
