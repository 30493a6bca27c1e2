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


def outlet(found, name="vent"):
    """One outlet of a parked aircraft."""
    return next(one for one in found.outlets if one.outlet == name)


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
    assert outlet(parked(layout)).rate == pytest.approx(by_hand, rel=0.07)


@pytest.mark.outside("siphon table of practice, common practice", quantity="siphon rate")
@pytest.mark.parametrize(("bore", "rate"), [(2.5, 39), (3.0, 81), (4.0, 250), (5.0, 576)])
def test_siphon_rate_of_practice(bore, rate):
    """200 mm of head in 1.5 m of tube gives the flow builders count with."""
    found = outlet(parked(siphon(bore=bore)))
    assert found.rate * 6e7 == pytest.approx(rate, rel=0.2)


def test_siphon_is_slower_than_a_free_jet():
    """No siphon beats Torricelli's jet."""
    found = outlet(parked(siphon(bore=8.0, length=250)))
    jet = math.pi / 4 * (8 * MM) ** 2 * math.sqrt(2 * GRAVITY * 0.2)
    assert 0.4 * jet < found.rate < jet


def test_siphon_takes_the_fuel_over_its_port():
    """A vent that opens at 60 mm loses the 0.4 L above it, not more."""
    found = outlet(parked(siphon(loop=150)))
    assert found.state == "siphons"
    assert found.loss == pytest.approx(0.4e-3, abs=0.025e-3)
    assert found.rise == pytest.approx(50 * MM, abs=1e-9)
    assert found.time > found.loss / found.rate


def test_siphon_stops_at_the_height_of_its_outlet():
    """An outlet 20 mm below the surface takes only the fuel over it."""
    found = outlet(parked(siphon(head=20, length=300, loop=150)))
    assert found.loss == pytest.approx(0.2e-3, rel=1e-6)


def test_without_a_loop_it_runs_by_itself():
    """A line that never rises over the surface needs no priming."""
    assert outlet(parked(siphon())).state == "runs"


def test_outlet_over_the_fuel_loses_nothing():
    """An outlet higher than the surface keeps the fuel in."""
    found = outlet(parked(siphon(head=-30, length=300)))
    assert found.state == "above"
    assert (found.rate, found.loss) == (0.0, 0.0)


def test_vent_port_in_air_loses_nothing():
    """A vent that opens in the air space cannot siphon, however low its outlet."""
    found = outlet(parked(siphon(fill=0.4)))
    assert found.state == "dry"
    assert found.loss == 0.0


def test_capped_vent_loses_nothing():
    """A cap stops the siphon."""
    assert outlet(parked(siphon(), capped=True)).state == "capped"


def test_closed_tank_holds_its_fuel():
    """With no second opening a narrow vent loses only what the air on board can stretch by."""
    layout = siphon(second=False, fill=0.9)
    found = outlet(parked(layout))
    rho = float(fluids_at(layout, np.array([20.0])).liquid_density[0])
    pulled = rho * GRAVITY * 0.2
    assert found.state == "held"
    assert found.loss == pytest.approx(0.1e-3 * pulled / (101325.0 - pulled), rel=1e-6)


def test_wide_vent_of_a_closed_tank_is_not_held():
    """Bubbles rise through a tube wider than some 7 mm, and the fuel runs out past them."""
    found = outlet(parked(siphon(second=False, bore=9.0, fill=0.9)))
    assert found.state == "runs"


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
    assert found.spilt == pytest.approx(0.0, abs=1e-9)


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
    assert found.brim_full


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
    assert found.capped_pressure == pytest.approx(pressure, rel=1e-9)
    assert found.over_rated == {"main": 20e3}


def test_around_level_finds_the_attitude_that_loses_most():
    """A vent at the nose end stands under fuel nose up, not nose down."""
    main = box("main", (0, 0, 50), (300, 100, 100), fill=0.95, vent=(-150, 0, 95), air=(0, 0, 100))
    lines = {
        "vent": ("main.vent", "vent.tube", 300),
        "air": ("main.air", "air.tube", 150),
    }
    layout = rig([main], lines, outlets={"vent": (-150, 0, -100), "air": (0, 0, 250)})
    around = park(layout, survey(layout)).around
    middle = len(around.roll) // 2
    assert around.loss[-1, middle] == 0.0
    assert around.loss[0, middle] > 0.1e-3


def test_no_stated_attitude_is_no_trouble():
    """Without stated attitudes only those around level are looked at."""
    layout = siphon()
    found = park(layout, survey(layout))
    assert found.attitudes == {}
    assert found.around.loss.shape == (len(found.around.pitch), len(found.around.roll))


def test_empty_aircraft_loses_nothing():
    """Without fuel there is nothing to lose, to leak or to grow."""
    found = parked(siphon(), fuel=0.0)
    assert outlet(found).loss == 0.0
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
    assert found.outlets == ()
    assert found.moved == {}
