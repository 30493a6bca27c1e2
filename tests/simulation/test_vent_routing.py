"""Vents: low points, slugs, outlet pressures and what they move, by hand."""

import math
from dataclasses import replace

import numpy as np
import pytest
from ground_rigs import MM, box, rig

from plumbing.model.flight import Felt, Phase
from plumbing.model.ground import Parking
from plumbing.network import survey
from plumbing.physics.constants import GRAVITY
from plumbing.simulation.fluid import fluids_at
from plumbing.simulation.profile import profile_of
from plumbing.simulation.vent_routing import vents_of

TURN = Phase(name="turn", duration=10.0, throttle=0.5, felt=Felt(up=4.0), airspeed=60.0)
INVERTED = Phase(name="inverted", duration=10.0, throttle=0.5, roll=math.pi)


def looked_at(layout, *phases):
    """Vents of a layout on a flight."""
    return vents_of(layout, survey(layout), profile_of("test", phases or (TURN,)))


def sagging(sag=40.0, **parts):
    """A tank whose vent hangs down by `sag` before it rises over the tank."""
    main = box("main", (0, 0, 50), (100, 100, 100), low=(0, 0, 0), top=(0, 0, 100))
    route = [(50, 0, 100 - sag), (100, 0, 150)] if sag else [(100, 0, 150)]
    lines = {
        "vent": ("main.top", "vent.tube", 400, route),
        "feed": ("main.low", "pump.in", 100),
        "delivery": ("pump.out", "engine.feed", 100),
    }
    return rig(
        [main],
        lines,
        outlets={"vent": (100, 0, -50)},
        pumps={"pump": (0, 0, -50)},
        engines={"engine": (200, 0, 0)},
        **parts,
    )


def test_slug_costs_its_height_times_the_load():
    """Drawing air past a slug 40 mm deep at the usual load factor costs rho n g h."""
    layout = sagging()
    found = looked_at(layout).ways[0]
    rho = float(fluids_at(layout, np.array([20.0])).liquid_density[0])
    load = max(layout.aircraft.load_factors.positive, 4.0)
    assert found.sags["level"] == pytest.approx(40 * MM)
    assert found.slug == pytest.approx(rho * load * GRAVITY * 40 * MM, rel=1e-9)
    assert found.slug_level == pytest.approx(rho * GRAVITY * 40 * MM, rel=1e-9)
    assert found.low_at == pytest.approx((50 * MM, 0.0, 60 * MM))


@pytest.mark.outside("slug figures of practice, common practice", quantity="suction of a slug")
def test_slug_of_practice():
    """200 mm of fuel cost 1.6 kPa at one g, and five times that at five."""
    layout = sagging(sag=200.0)
    assert looked_at(layout).ways[0].slug_level == pytest.approx(1.6e3, rel=0.05)


def test_falling_vent_has_no_low_point():
    """A vent that only rises and then falls holds no fuel."""
    found = looked_at(sagging(sag=0.0)).ways[0]
    assert found.slug == 0.0
    assert found.low_at is None
    assert found.highs == ((100 * MM, 0.0, 150 * MM),)


def test_inverted_flight_is_not_counted():
    """Upside down the loop itself is the low point; fuel found there would have run out."""
    found = looked_at(sagging(sag=0.0), INVERTED).ways[0]
    assert found.slug == 0.0


def test_low_point_of_a_parking_attitude():
    """A vent that runs level has a low point once the nose is down."""
    layout = sagging(sag=0.0)
    vent = replace(layout.lines["vent"], route=((0.1, 0.0, 0.1), (0.1, 0.0, 0.15)))
    parking = {"nose down": Parking(name="nose down", pitch=math.radians(-20))}
    layout = replace(layout, lines={**layout.lines, "vent": vent}, parking=parking)
    found = looked_at(layout).ways[0]
    assert found.sags["level"] == 0.0
    nose_up = replace(parking["nose down"], pitch=math.radians(20))
    again = looked_at(replace(layout, parking={"nose down": nose_up})).ways[0]
    assert max(found.sags["nose down"], again.sags["nose down"]) == pytest.approx(
        0.1 * math.sin(math.radians(20)), rel=1e-6
    )


@pytest.mark.outside("dynamic pressure, half rho v squared", quantity="pressure at an outlet")
@pytest.mark.parametrize(("speed", "kilopascal"), [(30, 0.55), (50, 1.5), (80, 3.9), (100, 6.1)])
def test_pressure_at_an_outlet(speed, kilopascal):
    """An outlet of coefficient one stands under the full dynamic pressure."""
    layout = sagging()
    facing = replace(layout.outlets["vent"], pressure_coefficient=1.0)
    aircraft = replace(layout.aircraft, max_airspeed=float(speed))
    layout = replace(layout, outlets={"vent": facing}, aircraft=aircraft)
    phase = replace(TURN, airspeed=None)
    found = looked_at(layout, phase).pressures[0].pressure
    assert found.value == pytest.approx(kilopascal * 1e3, rel=0.025)


def test_outlet_without_facing_is_unknown():
    """An outlet that states neither facing nor coefficient is not given a pressure."""
    found = looked_at(sagging())
    assert found.unknown == ("vent",)
    assert found.pressures == ()


def pair():
    """Two tanks teed to a pump, each with a vent of its own."""
    tanks = [
        box(side, (0, y, 50), (100, 50, 100), low=(0, y, 0), top=(0, y, 100))
        for side, y in (("port", -100), ("starboard", 100))
    ]
    lines = {
        "port leg": ("port.low", "tee.run-a", 200),
        "starboard leg": ("starboard.low", "tee.run-b", 200),
        "to pump": ("tee.branch", "pump.in", 100),
        "delivery": ("pump.out", "engine.feed", 100),
        "port line": ("port.top", "port vent.tube", 100),
        "starboard line": ("starboard.top", "starboard vent.tube", 100),
    }
    return rig(
        tanks,
        lines,
        tees={"tee": (0, 0, 0)},
        pumps={"pump": (0, 0, 0)},
        engines={"engine": (100, 0, 0)},
        outlets={"port vent": (0, -100, 150), "starboard vent": (0, 100, 150)},
    )


def test_unequal_outlets_are_told():
    """Two outlets of one system differ by the difference of their coefficients."""
    layout = pair()
    outlets = {
        "port vent": replace(layout.outlets["port vent"], pressure_coefficient=0.5),
        "starboard vent": replace(layout.outlets["starboard vent"], pressure_coefficient=0.0),
    }
    uneven = looked_at(replace(layout, outlets=outlets)).uneven[0]
    assert uneven.outlets == ("port vent", "starboard vent")
    assert uneven.difference.value == pytest.approx(0.5 * 0.5 * 1.225 * 70**2, rel=1e-6)


def test_equal_outlets_push_nothing():
    """Two outlets of one coefficient are even."""
    layout = pair()
    outlets = {name: replace(one, pressure_coefficient=0.3) for name, one in layout.outlets.items()}
    assert looked_at(replace(layout, outlets=outlets)).uneven == ()
