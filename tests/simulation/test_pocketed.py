"""Tanks whose fuel lies in pockets: the flight, the tilt map and the ground, by hand."""

from dataclasses import replace

import numpy as np
import pytest
from flight_rigs import FLOOR, PER_MINUTE, flown, single, steady
from ground_rigs import box, rig
from pocket_rigs import BRIDGE, INVERTED, LEG, LONG, TALL, TOP, WIDE, inverted_u, saddle

from plumbing.model.flight import Phase
from plumbing.model.ground import Filling
from plumbing.model.tank import Box, Pickup, Prism, Section
from plumbing.network import survey
from plumbing.report.html.moments import moments
from plumbing.simulation.balance import slosh
from plumbing.simulation.draining import drain_all
from plumbing.simulation.filling import fill
from plumbing.simulation.levels import down_at, gas_kept, surface
from plumbing.simulation.profile import profile_of
from plumbing.simulation.tankage import tankage
from plumbing.simulation.tilt import tilt

HAND = "hand: two legs of 50 x 100 x 200 mm, 1 L each, under a bridge of 0.6 L"
FLOW = 160.0 * PER_MINUTE
BORE = 4e-3  # of the pickup, which draws air as the surface sinks through it [m]


@pytest.mark.outside(HAND, quantity="fuel that stays in the far leg")
def test_the_far_leg_of_an_inverted_u_keeps_its_fuel():
    """An engine fed from one leg stops with the litre of the other leg on board.

    Of its own leg the film below the pickup stays: less than the bore of the pickup deep.
    """
    found = flown(inverted_u(), steady(1200))
    film = WIDE * LONG * BORE
    assert LEG < found.stranded["main"] < LEG + film
    assert found.usable == pytest.approx(LEG + BRIDGE - 0.5 * film, abs=0.5 * film)
    waits = found.endurance - found.usable / FLOW
    assert 0.0 <= waits < 5.0  # the engine runs on for a moment when fuel has failed
    (pocket,) = found.pockets
    assert pocket.tank == "main"
    assert pocket.volume == pytest.approx(LEG, rel=1e-6)
    assert pocket.ridge == pytest.approx(TALL, rel=1e-9)
    assert pocket.at[1] > 0.04
    assert pocket.at[2] == pytest.approx(-0.5 * TOP, abs=1e-9)


@pytest.mark.outside(HAND, quantity="level in each leg")
def test_each_leg_has_a_level_of_its_own():
    """In the end the far leg stands full to its ridge and the other is as low as its pickup.

    The page that shows it cuts each wall at the level of the leg it belongs to.
    """
    layout = inverted_u()
    found = flown(layout, steady(1200))
    assert found.history.tankage.tank.tolist() == [0, 0]
    over_floor = np.sort(found.history.level[-1]) + 0.5 * TOP
    assert over_floor == pytest.approx([0.0, TALL], abs=BORE)
    assert over_floor[1] == pytest.approx(TALL, abs=1e-9)
    told = moments(layout, found)["flights"][0]
    (way,) = told["basins"]
    (vessel,) = found.history.tankage.vessels
    corners = vessel.mesh.vertices[vessel.mesh.faces]
    floors = np.flatnonzero(corners[:, :, 2].max(axis=1) < -0.49 * TOP)
    far = corners[floors, :, 1].mean(axis=1) > 0.0
    high = np.array([told["level"][-1][ord(way[0][face]) - ord("0")] for face in floors])
    assert ((high + 0.5 * TOP > 0.5 * TALL) == far).all()
    assert set(far.tolist()) == {True, False}
    (near, full) = sorted(found.surfaces_at_reserve["main"], key=lambda rim: rim[0, 2])
    assert full[:, 2] + 0.5 * TOP == pytest.approx(TALL, abs=1e-9)
    assert near[:, 2].max() < full[:, 2].min() - 0.01
    assert full[:, 1].min() > 0.0 > near[:, 1].max()


@pytest.mark.outside(HAND, quantity="timer of a tank with two legs")
def test_the_timer_counts_only_the_fuel_it_gets():
    """The timer of an inverted U is that of a box with its usable fuel, to a step of 15 s."""
    found = flown(inverted_u(), steady(1200))
    box = flown(single(size=(200, 80, 100), rest=(0, 0, -50 + FLOOR)), steady(1200))
    assert found.timer == pytest.approx(box.timer, abs=15.0)


@pytest.mark.outside("mass: on board = burnt + left + lost", quantity="books of a flight")
def test_the_books_of_a_flight_over_ridges_close():
    """Banked, pitched, rolled over and back, fuel spills over ridges and none is lost."""
    phases = [
        Phase(duration=60.0, throttle=1.0),
        Phase(duration=30.0, throttle=1.0, roll=np.radians(50.0)),
        Phase(duration=20.0, throttle=1.0, roll=np.radians(-70.0)),
        Phase(duration=10.0, throttle=1.0, pitch=np.radians(60.0)),
        Phase(duration=15.0, throttle=1.0, roll=np.radians(180.0)),
        Phase(duration=30.0, throttle=1.0, roll=np.radians(25.0), pitch=np.radians(-20.0)),
        Phase(duration=300.0, throttle=1.0),
    ]
    found = flown(inverted_u(), profile_of("about", phases))
    for books in (found.books, found.dry_books):
        on_board = sum(books.on_board.values())
        gone = sum(books.burnt.values()) + sum(books.left.values()) + books.gone
        assert gone == pytest.approx(on_board, rel=1e-9)
    history = found.history
    np.testing.assert_allclose(history.lying.sum(axis=1), history.volume.sum(axis=1), atol=1e-5)


@pytest.mark.outside(
    "hand: a leg of 1 L rolled up spills down to L (h w - w2 tan / 2)", quantity="CG"
)
def test_a_bank_brings_fuel_over_the_ridge():
    """Banked to port by 40 degrees and back, the far leg has lost its wedge to the pickup's."""
    held = profile_of(
        "banked",
        [
            Phase(duration=330.0, throttle=1.0),
            Phase(duration=1.0, throttle=0.0, roll=np.radians(-40.0)),
            Phase(duration=1200.0, throttle=1.0),
        ],
    )
    found = flown(inverted_u(), held)
    wedge = 0.5 * WIDE**2 * np.tan(np.radians(40.0)) * LONG
    assert found.history.lying[-1].max() == pytest.approx(LEG - wedge, rel=1e-4)


@pytest.mark.outside(HAND, quantity="unusable fuel")
def test_the_tilt_map_counts_the_far_leg():
    """Level, the litre of the far leg is unusable; hung by its tail or upside down it is not."""
    layout = inverted_u()
    found = tilt(layout, survey(layout))
    film = WIDE * LONG * BORE
    assert LEG < found.level("main") <= LEG + film + 1e-9
    upside = found.over("main")[18, 0]
    assert upside > LEG + BRIDGE  # the pickup stands in the roof: nearly all is out of its reach
    slope = np.tan(np.radians(30.0))
    kept = LONG * (TALL * WIDE - 0.5 * slope * WIDE**2)
    port_down, star_down = found.over("main")[18, [36 - 6, 36 + 6]]
    assert port_down == pytest.approx(kept, abs=0.2 * kept)
    assert star_down > LEG


@pytest.mark.outside("hand: weights of a litre and of none", quantity="rolling moment")
def test_the_far_leg_rolls_the_aircraft():
    """With one leg empty the fuel's centre is that of the other leg, 70 mm to starboard."""
    found = flown(inverted_u(), steady(1200)).dry_run
    apart = LEG - (found.volume[-1, 0] - LEG)  # what is left in the other leg pulls back
    density = found.moment[-1] / (9.80665 * 0.07 * apart)
    assert 785.0 < density < 825.0  # kerosene with oil on an ordinary day


def test_a_clunk_that_swings_to_either_leg_gets_more():
    """A clunk whose hose reaches both legs lies in the lower one in a bank."""
    layout = inverted_u()
    tank = layout.tanks["main"]
    feed = replace(
        tank.ports["feed"],
        at=(0.0, 0.0, 0.5 * TOP),
        opens_at=None,
        pickup=Pickup(kind="clunk", reach=0.16, diameter=0.004),
    )
    tank = replace(tank, ports={**tank.ports, "feed": feed})
    clunk = replace(layout, tanks={"main": tank})
    both = profile_of(
        "both",
        [
            Phase(duration=150.0, throttle=1.0, roll=np.radians(sign * 10.0))
            for sign in (1, -1, 1, -1, 1, -1, 1, -1)
        ],
    )
    assert flown(clunk, both).usable > flown(layout, both).usable + 0.3 * LEG


@pytest.mark.outside("hand: boxes", quantity="surface in a turned tank")
def test_the_highest_surface_of_a_turned_tank():
    """Filled to 0.8 L in each leg: banked, each leg keeps its own; on its tail all lies in one."""
    tank = inverted_u().tanks["main"]
    level = surface(tank, 1.6e-3 / 2.6e-3)
    assert level == pytest.approx(-0.5 * TOP + 0.08, abs=1e-9)
    tail_down = surface(tank, 1.6e-3 / 2.6e-3, down_at(pitch=np.pi / 2.0))
    bank = np.radians(30.0)  # through the middle of the raised leg, 70 mm out, 80 mm deep
    raised = 0.07 * np.sin(bank) + (0.08 - 0.5 * TOP) * np.cos(bank)
    banked = surface(tank, 1.6e-3 / 2.6e-3, down_at(roll=bank))
    assert banked == pytest.approx(raised, abs=1e-9)
    area = 0.19 * TOP - 0.09 * TALL
    assert tail_down == pytest.approx(-0.1 + 1.6e-3 / area, abs=1e-9)


def test_what_is_filled_in_lies_level_and_turns():
    """Fuel as it lies has the total that was filled in, whatever the direction."""
    rng = np.random.default_rng(4)
    down = rng.normal(size=(40, 3))
    down = np.concatenate([[[0.0, 0.0, -1.0]], down / np.linalg.norm(down, axis=1)[:, None]])
    tanks = tankage(inverted_u(), down)
    volume = rng.random((41, 1)) * 2.6e-3
    lying = tanks.lying(volume, np.arange(41))
    assert lying.shape == (41, tanks.vessels[0].pockets)
    np.testing.assert_allclose(tanks.total(lying), volume, rtol=1e-9)
    assert (lying >= -1e-15).all()
    np.testing.assert_allclose(tanks.settled(lying, np.arange(41)), lying, atol=1e-12)


U_TUBE = (
    (-0.095, 0.0),
    (0.095, 0.0),
    (0.095, 0.1158),
    (0.045, 0.1158),
    (0.045, 0.0158),
    (-0.045, 0.0158),
    (-0.045, 0.1158),
    (-0.095, 0.1158),
)
OVER = tuple((y, 0.1158 - z) for y, z in U_TUBE)


def on_the_ground(outline, **vents):
    """A tank 200 mm long filled through its port leg's floor, vents at points [mm]."""
    low = (0, -70, -57.9)
    tank = box("main", (0, 0, 0), (200, 190, 115.8), low=low, **vents)
    sections = tuple(Section(station=x, outline=outline) for x in (0.0, LONG))
    tank = replace(tank, shape=Prism(at=(0.0, 0.0, 0.0), sections=sections))
    lines = {"fill": ("fill.tube", "main.low", 100)}
    lines |= {name: (f"main.{name}", f"{name}.tube", 100) for name in vents}
    return rig(
        [tank],
        lines,
        fill_ports={"fill": (0, -70, -80)},
        outlets={name: (x, y, z + 60) for name, (x, y, z) in vents.items()},
        filling=Filling(flow=1e-3 / 60),
    )


@pytest.mark.outside("hand: an arm of 50 x 100 x 200 mm", quantity="air trapped by filling")
def test_an_arm_without_a_vent_keeps_its_air():
    """A U-tube vented in one arm holds a litre of air in the other; vented in both, none."""
    one = on_the_ground(U_TUBE, port=(0, -70, 57.9))
    both = on_the_ground(U_TUBE, port=(0, -70, 57.9), starboard=(0, 70, 57.9))
    trapped, free = (fill(each, survey(each)).tanks["main"] for each in (one, both))
    whole = 0.19 * LONG * 0.0158 + 2.0 * LEG
    assert trapped.trapped == pytest.approx(LEG, rel=0.01)
    assert trapped.holds == pytest.approx(whole - LEG, rel=0.01)
    assert free.trapped < 0.02 * whole


@pytest.mark.outside("hand: arms of a litre each over a floor of 0.6 L", quantity="air kept")
@pytest.mark.parametrize(
    ("openings", "roll", "kept"),
    [
        ([(0, -0.07, 0.0579)], 0, LEG),  # at the top of one arm
        ([(0, -0.07, 0.0079)], 0, LEG + 0.5 * LEG),  # half way down that arm
        ([(0, -0.07, 0.0079), (0, 0.07, 0.0579)], 0, 0.5 * LEG),
        ([(0, 0, -0.0421)], 0, 2.0 * LEG),  # in the floor's roof
        ([(0, 0, -0.0421)], 180, 0.0158 * 0.19 * LONG),  # turned over, between the arms
        ([(0, 0, -0.0579)], 180, 0.0),  # turned over, in the roof
    ],
)
def test_air_that_openings_keep(openings, roll, kept):
    """Of a U-tube each arm keeps what no opening lets out of it, on its feet and on its head."""
    tank = on_the_ground(U_TUBE, port=(0, -70, 57.9)).tanks["main"]
    whole = 0.19 * LONG * 0.0158 + 2.0 * LEG
    found, top = gas_kept(tank, openings, down_at(roll=np.radians(roll)))
    assert found * whole == pytest.approx(kept, abs=1e-9 * whole)
    if roll == 0 and len(openings) == 1:
        assert top[1] > 0.0 or openings[0][1] == 0


@pytest.mark.outside("hand: the leg that is fed fills first", quantity="fuel filled in")
def test_the_leg_that_is_filled_runs_over_into_the_other():
    """Filled in one leg, an inverted U fills whole: that leg runs over into the other."""
    layout = on_the_ground(OVER, vent=(0, 0, 57.9))
    found = fill(layout, survey(layout)).tanks["main"]
    whole = 0.19 * LONG * 0.0158 + 2.0 * LEG
    assert found.holds == pytest.approx(whole, rel=0.01)


@pytest.mark.outside("hand: the far leg keeps its litre", quantity="fuel drawn back")
def test_drawing_back_leaves_the_far_leg():
    """The filling pump draws one leg and the bridge; the far leg keeps its litre."""
    layout = on_the_ground(OVER, vent=(0, 0, 57.9))
    drained = drain_all(layout, survey(layout))["fill"]
    assert LEG * 0.999 < drained.books.left["main"] < LEG + WIDE * LONG * BORE


def test_what_is_taken_of_pockets_is_listed():
    """A flight with fuel in pockets says what it takes for granted; one without does not."""
    paths = [one.what for one in flown(inverted_u(), steady(60)).profile.assumptions]
    assert "tanks.main.shape" in paths
    paths = [one.what for one in flown(single(), steady(60)).profile.assumptions]
    assert "tanks.main.shape" not in paths


@pytest.mark.outside("hand: wedges at rest against a leg's wall", quantity="slosh")
def test_fuel_in_legs_runs_only_within_them():
    """In two legs abreast, half full, fuel runs aft as in one box of the same length and depth."""
    layout = inverted_u()
    tank = layout.tanks["main"]
    box_tank = replace(tank, shape=Box(at=(0.0, 0.0, 0.0), size=(LONG, 2.0 * WIDE, 2.0 * 0.065)))
    legs, one = (slosh(layout, each, 0.3) for each in (tank, box_tank))
    assert legs == pytest.approx(one, rel=1e-9)


def test_gas_that_is_shut_in_is_said():
    """Of a U-tube with one vent the flight says that the other arm is taken to breathe."""
    outline = tuple((y, -z) for y, z in INVERTED)[::-1]
    one = saddle(outline, (0, -70, -500 * TOP + FLOOR))
    vent = replace(one.tanks["main"].ports["vent"], at=(0.0, -0.07, 0.5 * TOP), opens_at=None)
    tank = replace(one.tanks["main"], ports={**one.tanks["main"].ports, "vent": vent})
    said = [
        one.value
        for one in flown(replace(one, tanks={"main": tank}), steady(60)).profile.assumptions
        if one.what == "tanks.main.ports"
    ]
    assert len(said) == 1
    assert "38 %" in said[0]  # a litre of 2.6
    assert "y 95 mm" in said[0] or "y 45 mm" in said[0]
