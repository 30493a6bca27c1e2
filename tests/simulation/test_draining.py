"""Draining: what comes out and what stays, by hand and by limits."""

import math
from dataclasses import replace

import pytest
from ground_rigs import MM, box, composite, rig

from plumbing.layout import load
from plumbing.model.ground import Filling
from plumbing.model.parts import Drain
from plumbing.network import survey
from plumbing.physics.constants import ATMOSPHERE, GRAVITY
from plumbing.simulation.draining import drain_all


def drained(layout):
    """Everything drained, by place."""
    return drain_all(layout, survey(layout))


def tank_with_drain(bore=4.0, length=50, below=100, low=0.0):
    """A litre with a vent on top and a drain whose end hangs below the floor."""
    made = box("main", (0, 0, 50), (100, 100, 100), low=(0, 0, low), top=(0, 0, 100))
    drain = Drain(name="drain", at=(0.0, 0.0, -below * MM), bore=bore * MM)
    return rig(
        [made],
        {"drain": ("main.low", "drain.tube", length), "vent": ("main.top", "vent.tube", 100)},
        bore=bore,
        outlets={"vent": (0, 0, 200)},
        drains={"drain": drain},
    )


@pytest.mark.outside("Torricelli's theorem", quantity="flow out of a drain")
@pytest.mark.parametrize("bore", [4.0, 8.0, 15.0])
def test_drain_runs_slower_than_a_free_jet(bore):
    """A drain never gives more than a free jet under its head, and a wide short one near that."""
    found = drained(tank_with_drain(bore=bore))["drain"]
    jet = math.pi / 4 * (bore * MM) ** 2 * math.sqrt(2 * GRAVITY * 0.2)
    assert found.flow < jet
    assert found.flow > {4.0: 0.35, 8.0: 0.5, 15.0: 0.6}[bore] * jet


def test_drain_in_the_floor_empties_the_tank():
    """What stays is less than the fuel under the height of the drain's own bore."""
    found = drained(tank_with_drain())["drain"]
    assert found.books.taken + sum(found.books.left.values()) == pytest.approx(1e-3, rel=1e-6)
    assert found.books.left["main"] < 4 * MM * 0.01


def test_fuel_below_the_drain_stays():
    """A drain 30 mm up the wall leaves 0.3 L of a litre behind."""
    found = drained(tank_with_drain(low=30.0))["drain"]
    assert found.books.left["main"] == pytest.approx(0.3e-3, abs=0.02e-3 + 1e-6)
    assert found.left_share == pytest.approx(0.3, abs=0.021)


def test_drain_above_the_fuel_gives_nothing():
    """A drain that ends over the surface lets nothing out, and says why."""
    found = drained(tank_with_drain(below=-150))["drain"]
    assert found.why_not
    assert found.books.taken == 0.0


def test_drain_without_a_vent_gives_nothing():
    """From a closed tank nothing runs: no air gets in behind the fuel."""
    layout = tank_with_drain()
    main = layout.tanks["main"]
    ports = {**main.ports, "top": replace(main.ports["top"], capped=True)}
    layout = replace(
        layout,
        tanks={"main": replace(main, ports=ports)},
        outlets={},
        lines={"drain": layout.lines["drain"]},
    )
    assert drained(layout)["drain"].why_not


def fill_and_vent(wall, flow=1e-3 / 60, bore=4.0, vent=100, fill=0.95):
    """A tank drawn empty through its fill port."""
    main = box(
        "main",
        (0, 0, 50),
        (100, 100, 100),
        wall=wall,
        fill=fill,
        low=(0, 0, 0),
        top=(0, 0, 100),
    )
    return rig(
        [main],
        {"fill": ("fill.tube", "main.low", 100), "vent": ("main.top", "vent.tube", vent)},
        bore=bore,
        fill_ports={"fill": (0, 0, 0)},
        outlets={"vent": (0, 0, 100)},
        filling=Filling(flow=flow),
    )


def test_fill_port_draws_the_tank_empty():
    """Drawn at the floor, all but the fuel under the bore comes back, in volume over flow."""
    found = drained(fill_and_vent(composite()))["fill"]
    assert found.books.taken == pytest.approx(0.95e-3, abs=0.04e-3)
    assert found.flat == ()


def test_narrow_vent_sucks_the_tank_flat():
    """A wall that folds at 20 Pa folds when air must come through a long thin vent."""
    layout = fill_and_vent(composite(collapse=20.0), bore=2.0, vent=2000)
    found = drained(layout)["fill"]
    assert found.flat == ("main",)
    assert found.suction["main"] > 20.0


def test_closed_vent_folds_the_tank_by_the_gas_law():
    """Drawing with the vent closed stretches the air; Boyle's law gives the fuel until it folds."""
    found = drained(fill_and_vent(composite(collapse=10e3)))["fill"]
    air = 0.05e-3
    stretched = air * ATMOSPHERE / (ATMOSPHERE - 10e3)
    assert found.flat_vent_closed["main"] == pytest.approx(stretched - air, rel=1e-9)


@pytest.mark.outside("Boyle's law for each system by itself", quantity="fuel until a tank folds")
def test_only_the_gas_that_hangs_together_stretches():
    """Of two systems that share nothing, drawing from one stretches its own gas only."""
    layout = fill_and_vent(composite(collapse=10e3))
    other = box("other", (1000, 0, 50), (100, 100, 100), fill=0.5, top=(1000, 0, 100))
    vent = replace(layout.outlets["vent"], name="other vent", at=(1.0, 0.0, 0.1))
    line = replace(layout.lines["vent"], name="o", from_="other.top", to="other vent.tube")
    two = replace(
        layout,
        tanks={**layout.tanks, "other": other},
        outlets={**layout.outlets, "other vent": vent},
        lines={**layout.lines, "o": line},
    )
    one, both = (drained(each)["fill"].flat_vent_closed for each in (layout, two))
    assert both == pytest.approx(one)


def test_a_brim_full_tank_folds_at_once():
    """Fuel does not stretch: with no air on board and the vent closed, nothing need be drawn."""
    found = drained(fill_and_vent(composite(collapse=10e3), fill=1.0))["fill"]
    assert found.flat_vent_closed["main"] == pytest.approx(0.0, abs=1e-9)


def test_tilting_runs_the_fuel_to_the_pickup():
    """Nose up by 8 degrees a tank of 240 mm is 34 mm deep at its end: less stays than level."""
    layout = load("layouts/teed-pair-repaired.yaml")
    level = replace(layout, filling=replace(layout.filling, drain_pitch=0.0))
    flat, tilted = (drain_all(one, survey(one))["fill"] for one in (level, layout))
    assert math.degrees(tilted.pitch) == pytest.approx(8.0)
    assert tilted.left_share < 0.3 * flat.left_share
    as_filled = replace(layout.filling, drain_pitch=None, pitch=layout.filling.drain_pitch)
    same = replace(layout, filling=as_filled)
    assert drain_all(same, survey(same))["fill"].books == tilted.books
