"""Parking: siphons, levels, heads, leaks and heat, by hand and by a second method."""

import math
from dataclasses import replace

import fluids
import numpy as np
import pytest
from ground_rigs import MM, box, composite, rig
from scipy.optimize import brentq

from plumbing.model.ground import Filling, Parking
from plumbing.network import survey
from plumbing.physics.constants import GRAVITY
from plumbing.simulation.fluid import fluids_at
from plumbing.simulation.parking import park


def parked(layout, **parking):
    """The layout left standing in one attitude."""
    layout = replace(layout, parking={"here": Parking(name="here", **parking)})
    return park(layout, survey(layout)).attitudes["here"]


def siphon(bore=4.0, head=200, length=1500, loop=None, second=True, fill=1.0, opens=60):
    """A litre whose vent opens at a height inside and ends below; a second vent lets air in."""
    main = box("main", (0, 0, 50), (100, 100, 100), fill=fill, vent=(0, 50, opens), air=(0, 0, 100))
    route = [(0, 50, loop)] if loop is not None else []
    lines = {"vent": ("main.vent", "vent.tube", length, route)}
    outlets = {"vent": (0, 50, 100 * fill - head)}
    if second:
        lines["air"] = ("main.air", "air.tube", 50)
        outlets["air"] = (0, 0, 200)
    else:
        main = replace(main, ports={**main.ports, "air": replace(main.ports["air"], capped=True)})
    return rig([main], lines, bore=bore, outlets=outlets)


def way(found, name="vent"):
    """The way to one outlet of a parked aircraft."""
    return next(one for one in found.ways if one.outlet == name)


def books_close(found):
    """What was on board is left or lost, after the time parked and in the end."""
    for books in (found.books, found.final):
        assert books.amiss == pytest.approx(0.0, abs=1e-9 * books.start)


@pytest.mark.outside("Churchill 1977 as implemented in `fluids`", quantity="siphon rate")
@pytest.mark.parametrize("bore", [2.5, 3.0, 4.0, 5.0])
def test_siphon_rate_by_another_solver(bore):
    """A primed siphon runs at the flow whose loss is its head."""
    layout = siphon(bore=bore)
    kerosene = fluids_at(layout, np.array([20.0]))
    rho, mu = float(kerosene.liquid_density[0]), float(kerosene.liquid_viscosity[0])
    area = math.pi / 4 * (bore * MM) ** 2

    def short(flow):
        speed = flow / area
        friction = fluids.friction.Churchill_1977(rho * speed * bore * MM / mu, 0.0)
        losses = friction * 1.5 / (bore * MM) + 1.28 + 0.75
        return (losses + 160 * mu / (rho * speed * bore * MM)) * speed**2 / 2 - GRAVITY * 0.2

    by_hand = brentq(short, 1e-9, 1e-3)
    assert parked(layout).lost["vent"].rate == pytest.approx(by_hand, rel=0.07)


@pytest.mark.outside("siphon table of practice, common practice", quantity="siphon rate")
@pytest.mark.parametrize(("bore", "rate"), [(2.5, 39), (3.0, 81), (4.0, 250), (5.0, 576)])
def test_siphon_rate_of_practice(bore, rate):
    """200 mm of head in 1.5 m of tube gives the flow builders count with."""
    found = parked(siphon(bore=bore)).lost["vent"]
    assert found.rate * 6e7 == pytest.approx(rate, rel=0.2)


def test_siphon_is_slower_than_a_free_jet():
    """No siphon beats Torricelli's jet."""
    found = parked(siphon(bore=8.0, length=250)).lost["vent"]
    jet = math.pi / 4 * (8 * MM) ** 2 * math.sqrt(2 * GRAVITY * 0.2)
    assert 0.4 * jet < found.rate < jet


def test_siphon_takes_the_fuel_over_its_port():
    """A vent that opens at 60 mm loses the 0.4 L above it, not more."""
    found = parked(siphon(loop=150))
    lost = found.lost["vent"]
    assert way(found).state == "siphons"
    assert way(found).rise == pytest.approx(50 * MM, abs=1e-9)
    assert lost.in_the_end == pytest.approx(0.4e-3, abs=0.025e-3)
    assert lost.meanwhile == pytest.approx(lost.in_the_end, rel=1e-9)
    assert lost.time > 0.99 * lost.in_the_end / lost.rate
    assert "vent" in found.full
    books_close(found)


def test_a_siphon_parked_for_a_minute_loses_a_minute_of_flow():
    """Over the first minute the head falls by a tenth at most, and the flow with it."""
    found = parked(siphon(loop=150), duration=60.0)
    lost = found.lost["vent"]
    assert 0.85 * lost.rate * 60.0 < lost.meanwhile < lost.rate * 60.0
    assert lost.in_the_end > lost.meanwhile
    assert found.books.lost_overboard["vent"] == lost.meanwhile
    assert found.final.lost_overboard["vent"] == lost.in_the_end
    books_close(found)


def equal_vents():
    """Two litres joined at the floor, each with a vent of its own that opens in the fuel."""
    tanks = [
        box(side, (0, y, 50), (100, 100, 100), low=(0, y, 0), vent=(0, y, 60))
        for side, y in (("port", -200), ("starboard", 200))
    ]
    lines = {
        "balance": ("port.low", "starboard.low", 400),
        "port vent": ("port.vent", "port vent.tube", 500, [(0, -200, 150)]),
        "starboard vent": ("starboard.vent", "starboard vent.tube", 500, [(0, 200, 150)]),
    }
    return rig(
        tanks, lines, outlets={"port vent": (0, -200, -100), "starboard vent": (0, 200, -100)}
    )


def test_equal_vents_hold_each_other_but_one_alone_runs():
    """With both full of fuel neither gets air; with one of them dry the other runs."""
    found = parked(equal_vents())
    assert {one.state for one in found.ways} == {"siphons"}
    assert len(found.full) == 1
    assert list(found.lost) == list(found.full)
    books_close(found)


def test_nose_down_tank_below_its_outlet_keeps_its_fuel():
    """Nose down, a tank ahead of its outlet stands below it, though its port is under fuel."""
    main = box("main", (0, 0, 50), (100, 100, 100), vent=(0, 0, 60), air=(50, 0, 100))
    lines = {"vent": ("main.vent", "vent.tube", 600), "air": ("main.air", "air.tube", 100)}
    layout = rig([main], lines, outlets={"vent": (400, 0, 0), "air": (50, 0, 300)})
    level, nose_down = parked(layout), parked(layout, pitch=math.radians(-30))
    assert way(level).state == "runs"
    assert way(nose_down).state == "above"
    assert nose_down.lost == {}


def test_siphon_stops_at_the_height_of_its_outlet():
    """An outlet 20 mm below the surface takes only the fuel over it."""
    found = parked(siphon(head=20, length=300, loop=150)).lost["vent"]
    assert found.in_the_end == pytest.approx(0.2e-3, rel=0.02)


def test_without_a_loop_it_runs_by_itself():
    """A line that never rises over the surface needs no priming."""
    assert way(parked(siphon())).state == "runs"


def test_outlet_over_the_fuel_loses_nothing():
    """An outlet higher than the surface keeps the fuel in."""
    found = parked(siphon(head=-30, length=300))
    assert way(found).state == "above"
    assert found.lost == {}


def test_vent_port_in_air_loses_nothing():
    """A vent that opens in the air space cannot siphon, however low its outlet."""
    found = parked(siphon(fill=0.4))
    assert way(found).state == "dry"
    assert found.lost == {}


def test_capped_vent_loses_nothing():
    """A cap stops the siphon."""
    found = parked(siphon(), capped=True)
    assert way(found).state == "capped"
    assert found.lost == {}


def test_closed_tank_holds_its_fuel():
    """With no second opening a narrow vent runs no more than its air stretches: next to nothing.

    By Boyle's law 200 mm of fuel stretch 100 ml of air by 1.6 ml; the run takes it as rigid.
    """
    found = parked(siphon(second=False, fill=0.9))
    assert way(found).state == "held"
    assert found.lost == {}


def test_wide_vent_of_a_closed_tank_is_not_held():
    """Bubbles rise through a tube wider than some 7 mm, and the fuel runs out past them."""
    found = parked(siphon(second=False, bore=9.0, fill=0.9))
    assert way(found).state == "runs"
    assert found.lost["vent"].in_the_end == pytest.approx(0.345e-3, abs=0.045e-3)


def pair():
    """Two half-litre tanks at one height, joined at the floor and, above, by a vent."""
    tanks = [
        box(
            side,
            (0, y, 50),
            (100, 50, 100),
            fill=0.9 if y < 0 else 0.3,
            low=(0, y, 0),
            top=(0, y, 100),
        )
        for side, y in (("port", -100), ("starboard", 100))
    ]
    lines = {
        "balance": ("port.low", "starboard.low", 200),
        "port vent": ("port.top", "tee.run-a", 150),
        "starboard vent": ("starboard.top", "tee.run-b", 150),
        "vent": ("tee.branch", "vent.tube", 100),
    }
    return rig(tanks, lines, bore=6.0, tees={"tee": (0, 0, 150)}, outlets={"vent": (0, 0, 200)})


def test_joined_tanks_level_out():
    """Communicating tanks come to one level: by Archimedes' equal surfaces, half each."""
    found = parked(pair(), duration=7200.0)
    assert found.moved["port"] == pytest.approx(-0.15e-3, rel=0.02)
    assert found.moved["starboard"] == pytest.approx(0.15e-3, rel=0.02)
    assert found.lost == {}
    assert found.lasts < 600.0
    books_close(found)


def test_attitudes_of_one_batch_are_as_each_alone():
    """Attitudes that are run together do not disturb each other."""
    layout, tilts = siphon(loop=150), {"level": 0.0, "steep": 20.0, "over": 70.0}
    places = {
        name: Parking(name=name, roll=math.radians(one), duration=60.0)
        for name, one in tilts.items()
    }
    layout = replace(layout, parking=places)
    together = park(layout, survey(layout)).attitudes
    for name, one in tilts.items():
        alone = parked(layout, roll=math.radians(one), duration=60.0)
        assert together[name].lost.keys() == alone.lost.keys()
        for outlet, lost in alone.lost.items():
            assert together[name].lost[outlet].time == pytest.approx(lost.time, rel=1e-4)
            in_the_end = pytest.approx(lost.in_the_end, rel=1e-4)
            assert together[name].lost[outlet].in_the_end == in_the_end


def test_leaning_tanks_level_out_to_one_horizontal():
    """Starboard down, fuel crosses until both surfaces have one height in the world."""
    angle = math.radians(10)
    layout = pair()
    found = parked(layout, roll=angle, duration=4 * 3600.0)
    share = {name: found.fuel[name] + found.moved[name] for name in found.fuel}
    rise = 0.2 * math.tan(angle)
    assert (share["starboard"] - share["port"]) / (0.1 * 0.05) == pytest.approx(rise, rel=0.05)


def test_chain_with_one_vent_does_not_cross():
    """In a chain that breathes at one end, nothing crosses: no air gets behind the fuel."""
    tanks = [
        box("far", (0, 0, 150), (100, 100, 100), fill=0.9, low=(0, 0, 100), top=(0, 0, 200)),
        box("near", (300, 0, 50), (100, 100, 100), fill=0.9, top=(300, 0, 100)),
    ]
    lines = {"vent": ("far.top", "vent.tube", 100), "link": ("far.low", "near.top", 400)}
    found = parked(rig(tanks, lines, outlets={"vent": (0, 0, 250)}))
    assert found.moved == {}


def engine_below(parked_valve="open", **parking):
    """A tank whose floor stands 300 mm over the engine."""
    main = box("main", (0, 0, 350), (100, 100, 100), low=(0, 0, 300), top=(0, 0, 400))
    lines = {
        "vent": ("main.top", "vent.tube", 50),
        "feed": ("main.low", "shut-off.in", 300),
        "to pump": ("shut-off.out", "pump.in", 50),
        "delivery": ("pump.out", "engine.feed", 100),
    }
    layout = rig(
        [main],
        lines,
        outlets={"vent": (0, 0, 450)},
        pumps={"pump": (0, 0, 100)},
        engines={"engine": (0, 0, 0)},
        valves={"shut-off": (0, 0, 150)},
    )
    valve = replace(layout.valves["shut-off"], parked=parked_valve)
    return replace(layout, valves={"shut-off": valve})


def test_fuel_leaks_through_a_stopped_pump():
    """The leak is the pump's own, scaled from 10 kPa to the fuel's height over the engine."""
    layout = engine_below()
    found = parked(layout, duration=600.0).engines[0]
    rho = float(fluids_at(layout, np.array([20.0])).liquid_density[0])
    leak = 5e-6 / 60 * rho * GRAVITY * 0.4 / 10e3
    assert found.over_engine == pytest.approx(0.4, abs=1e-9)
    assert found.over_pump == pytest.approx(0.3, abs=1e-9)
    assert found.leaked == pytest.approx(600 * leak, rel=1e-9)


def test_closed_shut_off_keeps_the_engine_dry():
    """With the shut-off closed nothing leaks; open it would."""
    found = parked(engine_below(parked_valve="closed")).engines[0]
    assert found.shut == ("shut-off",)
    assert found.leaked == 0.0
    assert found.open_rate > 0.0


def test_engine_over_the_fuel_stays_dry():
    """Nose down far enough, the engine stands over the fuel."""
    found = parked(engine_below(), roll=math.pi).engines[0]
    assert found.over_engine < 0.0
    assert found.leaked == 0.0


@pytest.mark.outside("ASTM D1250, table 54B at 800 kg/m3", quantity="growth of warm fuel")
def test_fuel_grows_by_two_point_four_percent():
    """From 15 to 40 degrees, kerosene of 800 kg/m3 grows by 2.395 % of its volume."""
    layout = siphon(fill=1.0)
    layout = replace(layout, fuel=replace(layout.fuel, density_15=800.0))
    found = parked(layout, hottest=40.0).warmed
    assert found.share == pytest.approx(0.02395, abs=2e-5)
    assert found.spilt == pytest.approx(0.02395e-3, rel=1e-3)
    assert found.brim_full == ("main",)


def test_air_space_takes_up_the_growth():
    """With 5 % of air under an open vent, 2.4 % of growth spills nothing."""
    main = box("main", (0, 0, 50), (100, 100, 100), fill=0.93, air=(0, 0, 100))
    layout = rig([main], {"air": ("main.air", "air.tube", 50)}, outlets={"air": (0, 0, 200)})
    found = parked(layout, hottest=40.0).warmed
    assert found.spilt == 0.0
    assert not found.brim_full


def test_capped_air_space_is_an_air_spring():
    """Capped, the air is squeezed and warmed by the gas law."""
    main = box("main", (0, 0, 50), (100, 100, 100), fill=0.9, wall=composite(), air=(0, 0, 100))
    layout = rig(
        [main],
        {"air": ("main.air", "air.tube", 50)},
        outlets={"air": (0, 0, 200)},
        filling=Filling(temperature=15.0),
    )
    found = parked(layout, hottest=40.0, capped=True).warmed
    swollen = 0.9 * (1 + found.share)
    pressure = 101325.0 * (0.1 / (1 - swollen) * (313.15 / 288.15) - 1)
    assert found.capped_pressure["main"] == pytest.approx(pressure, rel=1e-9)
    assert found.over_rated == {"main": 20e3}


def test_capped_tanks_share_the_air_of_those_they_join():
    """Joined tanks swell into the air of both; a tank apart has its own."""

    def spring(fill, ratio):
        return 101325.0 * ((1 - fill) / (1 - ratio * fill) * (313.15 / 288.15) - 1)

    apart = box("apart", (0, 500, 50), (100, 100, 100), fill=0.8, air=(0, 500, 100))
    layout = pair()
    layout = replace(
        layout,
        tanks={**layout.tanks, "apart": apart},
        outlets={**layout.outlets, "air": replace(layout.outlets["vent"], name="air")},
        lines={
            **layout.lines,
            "air": replace(layout.lines["vent"], name="air", from_="apart.air", to="air.tube"),
        },
        filling=Filling(temperature=15.0),
    )
    found = parked(layout, hottest=40.0, capped=True).warmed
    ratio = 1.0 + found.share
    both = pytest.approx(spring(0.6, ratio), rel=1e-9)
    assert found.capped_pressure["port"] == both
    assert found.capped_pressure["starboard"] == both
    assert found.capped_pressure["apart"] == pytest.approx(spring(0.8, ratio), rel=1e-9)


@pytest.mark.outside("plane trigonometry by hand", quantity="head over a parked engine")
def test_around_level_tells_the_fuel_over_the_engine():
    """Rolled about the engine, the highest corner of a brim-full box stands over it by hand."""
    around = park(engine_below(), survey(engine_below())).around
    middle = len(around.roll) // 2
    assert around.head[middle, middle] == pytest.approx(0.4, abs=1e-9)
    angle = around.roll[-1]
    corner = 0.4 * math.cos(angle) + 0.05 * math.sin(angle)
    assert around.head[middle, -1] == pytest.approx(corner, abs=1e-6)


def test_no_stated_attitude_is_no_trouble():
    """Without stated attitudes only those around level are looked at."""
    layout = siphon()
    found = park(layout, survey(layout))
    assert found.attitudes == {}
    assert found.around.head.shape == (len(found.around.pitch), len(found.around.roll))


def test_empty_aircraft_loses_nothing():
    """Without fuel there is nothing to lose, to leak or to grow."""
    found = parked(siphon(), fuel=0.0)
    assert found.lost == {}
    assert found.warmed.grown == 0.0
    assert found.engines == ()


def test_no_vent_at_all():
    """A tank without any vent stands still and crosses nothing."""
    main = box("main", (0, 0, 50), (100, 100, 100), fill=0.9, low=(0, 0, 0))
    layout = rig(
        [main],
        {"feed": ("main.low", "pump.in", 100)},
        pumps={"pump": (0, 0, 0)},
    )
    found = parked(layout)
    assert found.ways == ()
    assert found.moved == {}
