"""Flights of systems simple enough to be flown with pencil and paper."""

import math
from dataclasses import replace

import numpy as np
import pytest
from flight_rigs import (
    FLOOR,
    ML,
    PER_MINUTE,
    chained,
    closure,
    engine,
    finite,
    flown,
    single,
    steady,
    teed,
)
from ground_rigs import box, rig

from plumbing import api
from plumbing.errors import SolveError
from plumbing.model.flight import Felt, Phase
from plumbing.model.parts import Valve
from plumbing.model.tank import Pickup
from plumbing.network import survey
from plumbing.simulation.engines import STOPS_AFTER
from plumbing.simulation.flight import fly
from plumbing.simulation.peak import peak_flow
from plumbing.simulation.profile import profile_of
from plumbing.simulation.usual_flights import usual_profile

DEMOS = (
    "bad",
    "chained-pair",
    "single-main",
    "teed-pair",
    "teed-pair-repaired",
    "twin",
    "wings-into-main",
)
FLOW = 160.0 * PER_MINUTE
CAPACITY = 0.150 * 0.080 * 0.060
BORE = 4e-3
IN_LINES = 0.4 * 0.25 * math.pi * BORE**2  # 0.2 m to the pump and 0.2 m to the engine [m3]


@pytest.mark.outside("worked by hand: V / q", quantity="time to empty")
@pytest.mark.parametrize(
    ("flow", "gas"), [(40.0, 0.3), (160.0, 0.3), (500.0, 0.3), (160.0, 0.1), (160.0, 0.5)]
)
def test_tank_empties_in_its_volume_over_the_flow(flow, gas):
    """At constant flow a box is empty after V / q, and the engine stops half a second later.

    That is when it has burnt what stands in the lines as well.

    Over the last of it, as deep as the bore, the share of liquid falls with the depth: the level
    then sinks by a power of e, and the share of it that is left is the liquid share.
    """
    thirsty = {"engine": engine(flow, flame_out_gas_share=gas)}
    flight = flown(single(flow, fill=1.0, engines=thirsty), steady(3000.0))
    under_bore = 0.150 * 0.080 * BORE
    q = flow * PER_MINUTE
    until_mix = (CAPACITY - under_bore) / q
    mixed = under_bore / q * math.log(1.0 / (1.0 - gas))
    assert flight.flame_out["pump"] == pytest.approx(
        until_mix + mixed + IN_LINES / q + 0.5, rel=1e-3
    )
    assert flight.stranded["main"] == pytest.approx((1.0 - gas) * under_bore, rel=0.02)
    before = flight.history.time < until_mix
    burnt = flight.history.burnt[before, 0]
    assert burnt == pytest.approx(q * flight.history.time[before], rel=1e-9, abs=1e-15)


def test_usable_and_stranded_make_up_what_was_on_board():
    """What a dry run burns and what it leaves is what was filled."""
    flight = flown(single(fill=0.9), steady(3000.0))
    assert flight.on_board == pytest.approx(0.9 * CAPACITY, rel=1e-9)
    assert flight.usable + flight.stranded["main"] == pytest.approx(flight.on_board, rel=1e-6)


@pytest.mark.outside("worked by hand: box below a fixed pickup", quantity="unusable fuel")
@pytest.mark.parametrize("height", [5.0, 12.0, 30.0])
def test_fixed_pickup_leaves_what_lies_below_it(height):
    """A pickup fixed at a height leaves the box below it, but for the mix at its own bore."""
    flight = flown(single(rest=(0, 0, -30 + height)), steady(3000.0))
    below = 0.150 * 0.080 * 1e-3 * height
    bore = 0.150 * 0.080 * BORE  # the engine stops when 70 % of the bore is covered
    assert flight.stranded["main"] == pytest.approx(below + 0.2 * bore, abs=0.02 * bore)


@pytest.mark.outside("worked by hand: wedge in a tilted box", quantity="unusable fuel")
@pytest.mark.parametrize(("pitch", "x"), [(20.0, -70.0), (-20.0, 70.0), (12.0, -50.0)])
def test_tilted_box_keeps_a_wedge(pitch, x):
    """With the pickup at the high end of a tilted floor, the wedge below it stays.

    The surface passes through the pickup and falls away from it: on the floor it leaves a
    triangle of run s and rise s tan(pitch), cut off by the end wall.
    """
    layout = single(rest=(x, 0, -30 + FLOOR))
    profile = steady(3000.0, pitch=math.radians(pitch))
    flight = flown(layout, profile)
    run = 0.075 + abs(x) * 1e-3
    slope = math.tan(math.radians(abs(pitch)))
    rise = run * slope
    assert rise < 0.060, "the wedge must not reach the lid for this formula"
    wedge = 0.5 * run * rise * 0.080
    band = 0.080 * BORE / math.cos(math.radians(pitch)) * run
    assert flight.stranded["main"] == pytest.approx(wedge, abs=0.5 * band)


@pytest.mark.outside("hand: left = on board - burnt, level = left / area", quantity="level")
@pytest.mark.parametrize("pitch", [0.0, 5.0])
def test_the_level_at_landing_reserve_is_what_is_left_over_the_area(pitch):
    """However the box was flown, it is shown level, with the reserve and what it cannot give."""
    layout = single()
    found = flown(layout, steady(1200, pitch=math.radians(pitch)))
    left = found.on_board - (found.usable - found.reserve)
    area = 0.150 * 0.080 * (1.0 - layout.tanks["main"].displaced)
    (outline,) = found.surfaces_at_reserve["main"]
    assert 0.0 < found.reserve < found.usable
    assert outline[:, 2] == pytest.approx(-0.030 + left / area, abs=1e-6)
    assert np.ptp(outline, axis=0) == pytest.approx([0.150, 0.080, 0.0], abs=1e-9)


@pytest.mark.outside("worked by hand: flow times time uncovered", quantity="air in the header")
def test_header_gains_the_air_its_feed_drinks():
    """Two nose-down phases that uncover the feed bring flow x time of air into the header."""
    layout = single(flow=240.0, rest=(70, 0, -30 + FLOOR), fill=0.5, header=(60, 60, 60))
    dive = math.radians(-60.0)
    phases = [
        Phase(name="level", duration=30.0, throttle=1.0),
        Phase(name="dive", duration=6.0, throttle=1.0, pitch=dive),
        Phase(name="level", duration=20.0, throttle=1.0),
        Phase(name="dive", duration=4.0, throttle=1.0, pitch=dive),
        Phase(name="level", duration=5.0, throttle=1.0),
    ]
    flight = flown(layout, profile_of("dives", phases))
    assert flight.header_air["header"] == pytest.approx(240.0 * PER_MINUTE * 10.0, rel=1e-3)
    assert flight.air_in_header["header"] == pytest.approx(30.0, abs=0.5)
    assert flight.flame_out["pump"] is None
    assert flight.air_at_pump["pump"].first is None


def test_chain_empties_from_the_vent_on():
    """Of three tanks in a row, the one that breathes empties first, the header last."""
    flight = flown(chained(header=(50, 50, 60)), steady(1200.0))
    assert [name for name, _ in flight.order] == ["far", "near", "header"]
    times = [time for _, time in flight.order]
    one = CAPACITY / FLOW
    assert times[0] == pytest.approx(one, rel=0.06)
    assert times[1] == pytest.approx(2.0 * one, rel=0.06)


@pytest.mark.slow
@pytest.mark.outside("common practice", quantity="endurance")
def test_small_class_flies_its_usual_time():
    """45 N on 1.4 l in two tanks: 8.5 to 9 minutes lie between aerobatic and sport flying."""
    sizes = (150, 80, 59)
    layout = chained(size=sizes, header=(50, 50, 60), clunk=True)
    layout = replace(layout, engines={"engine": engine(160, 27)})
    minutes = [
        flown(layout, usual_profile(style)).to_reserve / 60.0
        for style in ("aerobatic", "sport", "scale")
    ]
    dry = [flown(layout, usual_profile(style)).endurance / 60.0 for style in ("aerobatic", "sport")]
    assert minutes == sorted(minutes)
    assert minutes[0] < 9.0
    assert dry[1] > 8.5


@pytest.mark.quick("single-main", "twin")
@pytest.mark.parametrize("name", DEMOS)
def test_no_fuel_is_lost_or_invented(name):
    """Fuel in tanks, burnt and spilt adds up to what was filled, to 1e-9, in every demo."""
    layout = api.load(f"layouts/{name}.yaml")
    flight = fly(layout, survey(layout))
    assert closure(flight.history) < 1e-9
    assert closure(flight.dry_run) < 1e-9
    assert finite(flight)
    capacity = flight.dry_run.volume.max(axis=0)
    assert (flight.dry_run.volume >= -1e-12 * capacity).all()


@pytest.mark.quick("single-main", "twin")
@pytest.mark.parametrize("name", DEMOS)
def test_what_is_burnt_is_what_the_pump_drew_as_liquid(name):
    """Burnt fuel is flow x liquid share, summed over time."""
    layout = api.load(f"layouts/{name}.yaml")
    history = fly(layout, survey(layout)).history
    steps = np.diff(history.time)[:, None]
    drawn = history.flow * history.share
    summed = (0.5 * steps * (drawn[1:] + drawn[:-1])).sum(axis=0)
    scale = max(float(history.burnt[-1].max()), 5.0 * ML)
    assert summed == pytest.approx(history.burnt[-1], abs=5e-3 * scale)


class TestOddFlights:
    """What no one plans still has an answer, or says why not; never a missing number."""

    def test_weightless(self):
        """Without weight the flight goes on; fuel is taken to lie as in level flight."""
        profile = steady(30.0, felt=Felt(up=0.0))
        flight = flown(teed(), profile)
        assert finite(flight)
        assert closure(flight.history) < 1e-9

    def test_all_inverted(self):
        """Upside down all the time, a pickup on the floor drinks air at once."""
        flight = flown(single(rest=(0, 0, -25), fill=0.8), steady(60.0, roll=math.pi))
        assert finite(flight)
        assert flight.flame_out["pump"] == pytest.approx(
            IN_LINES / (160.0 * PER_MINUTE) + 0.5, abs=0.03
        )

    def test_all_inverted_with_a_clunk(self):
        """Upside down all the time, a clunk finds the fuel, and the vent spills none of it."""
        layout = single()
        tank = layout.tanks["main"]
        clunk = Pickup(kind="clunk", reach=0.035, diameter=6e-3)
        port = replace(tank.ports["feed"], at=(0.0, 0.0, 0.0), pickup=clunk)
        tank = replace(tank, ports={**tank.ports, "feed": port})
        flight = flown(replace(layout, tanks={"main": tank}), steady(900.0, roll=math.pi))
        assert finite(flight)
        assert flight.usable > 0.8 * flight.on_board

    def test_phases_of_no_length(self):
        """A phase of no length changes nothing."""
        phases = [
            Phase(duration=60.0, throttle=1.0),
            Phase(duration=0.0, throttle=1.0, roll=math.pi),
            Phase(duration=60.0, throttle=1.0),
        ]
        flight = flown(single(), profile_of("with a gap", phases))
        plain = flown(single(), steady(120.0))
        assert flight.history.burnt[-1] == pytest.approx(plain.history.burnt[-1], rel=1e-9)

    def test_no_phases_at_all(self):
        """A flight of which no phase lasts is refused by its name."""
        for phases in ([], [Phase(duration=0.0, throttle=1.0)]):
            with pytest.raises(SolveError, match="no phase of flight hop lasts"):
                flown(single(), profile_of("hop", phases))

    def test_empty_tanks(self):
        """With nothing in the tanks the engine burns what stands in the lines, and no more."""
        rigs = ((single, 0.4), (chained, 0.5), (teed, 0.7))  # way to the engine [m]
        for made, way in rigs:
            flight = flown(_filled(made(), 0.0), steady(60.0))
            assert finite(flight)
            assert flight.usable == pytest.approx(0.0, abs=1e-12)
            in_lines = way * 0.25 * math.pi * BORE**2 / (160.0 * PER_MINUTE)
            assert flight.flame_out["pump"] == pytest.approx(in_lines + 0.5, abs=0.1)

    def test_overfull(self):
        """Brim-full tanks upside down spill through the vent what the vent sees, and add up."""
        flight = flown(single(fill=1.0), steady(30.0, roll=math.pi))
        assert finite(flight)
        assert closure(flight.history) < 1e-9

    def test_engine_that_burns_nothing(self):
        """What an engine without a known flow would do is not known, and that is said."""
        layout = replace(single(), engines={"engine": engine(0.0)})
        with pytest.raises(SolveError, match="has a fuel flow"):
            flown(layout, steady(60.0))

    def test_valve_closed_in_flight(self):
        """Behind a closed valve the engine stops as soon as one does without fuel."""
        layout = single()
        feed = layout.lines["feed"]
        shut = Valve(name="shut", at=(0.2, 0, 0), bore=4e-3, kind="shut-off", flight="closed")
        lines = {
            **layout.lines,
            "feed": replace(feed, to="shut.in"),
            "rest": replace(feed, name="rest", from_="shut.out"),
        }
        flight = flown(replace(layout, valves={"shut": shut}, lines=lines), steady(60.0))
        assert finite(flight)
        assert flight.flame_out["pump"] == pytest.approx(STOPS_AFTER)
        assert flight.usable == 0.0
        assert flight.stranded["main"] == pytest.approx(flight.on_board)

    def test_nothing_joined(self):
        """Without a line from a tank to a pump there is a clear error."""
        layout = single()
        lines = {name: line for name, line in layout.lines.items() if name != "feed"}
        with pytest.raises(SolveError, match="draws fuel from a tank"):
            flown(replace(layout, lines=lines), steady(60.0))

    def test_transfer_pump(self):
        """A pump from tank to tank is not computed, and both flight and peak flow say so."""
        layout = single(header=(60, 60, 60))
        lift = replace(layout.pumps["pump"], name="lift")
        feed = layout.lines["feed"]
        lines = {
            **layout.lines,
            "feed": replace(feed, to="lift.in"),
            "up": replace(feed, name="up", from_="lift.out"),
        }
        layout = replace(layout, pumps={**layout.pumps, "lift": lift}, lines=lines)
        with pytest.raises(SolveError, match="lift delivers into a tank"):
            flown(layout, steady(60.0))
        why = peak_flow(layout, survey(layout)).engines.missing[0].reason
        assert why.startswith("lift delivers into a tank")

    def test_sealed_tank(self):
        """A full tank without any vent gives nothing; the engine stops at once.

        Nothing but what the pump draws in the tenth of a second to which that moment is known.
        """
        layout = single()
        lines = {name: line for name, line in layout.lines.items() if name != "vent line"}
        tank = layout.tanks["main"]
        sealed = replace(tank, ports={"feed": tank.ports["feed"]})
        closed = replace(layout, lines=lines, tanks={"main": sealed}, outlets={})
        flight = flown(closed, steady(60.0))
        assert finite(flight)
        assert flight.usable <= 0.1 * 160.0 * PER_MINUTE
        assert flight.flame_out["pump"] == pytest.approx(0.5, abs=0.2)

    def test_gravity_fed_engine(self):
        """An engine without a pump draws for itself."""
        main = box("main", (0, 0, 0), (150, 80, 60), feed=(0, 0, -29.999), vent=(0, 0, 30))
        layout = rig(
            [main],
            {
                "vent line": ("main.vent", "vent.tube", 100),
                "feed": ("main.feed", "engine.feed", 300),
            },
            engines={"engine": engine(160)},
            outlets={"vent": (0, 0, 50)},
        )
        flight = flown(layout, steady(900.0))
        assert flight.flame_out["engine"] == pytest.approx(CAPACITY / FLOW, rel=0.05)

    def test_start_on_the_ground_only(self):
        """A flight that never leaves the ground has an endurance of nothing but still runs dry."""
        flight = flown(single(), steady(60.0, on_ground=True))
        assert finite(flight)
        assert flight.usable > 0.9 * flight.on_board


def _filled(layout, share):
    return replace(
        layout, tanks={name: replace(tank, fill=share) for name, tank in layout.tanks.items()}
    )
