"""Ways of fuel, air, filling and draining."""

from dataclasses import replace

import networkx as nx
import pytest

from plumbing.model.line import Elbow
from plumbing.network import Role, survey

from .wiring import wire

END = "; header.out - tee1 - valve - pump - filter - engine; fill - tee1"
CHAIN = "vent - far.vent; far.pick - near.in; near.pick - header.in" + END


def test_fuel_path_names_everything_in_order():
    """The way of fuel from the far tank passes each tank, the pump and ends at the engine."""
    found = survey(wire(CHAIN)).fuel_path("far", "engine")
    assert found.path.parts == (
        "far", "near", "header", "tee1", "valve", "pump", "filter", "engine",
    )  # fmt: skip
    assert found.path.tanks == ("far", "near", "header")
    assert (found.port, found.pickup) == ("far.pick", "clunk")
    assert found.path.lines[0] == "line-2"
    assert str(found.path).startswith("far -> near")


def test_fuel_path_is_as_short_as_the_graph_allows():
    """Second method: networkx finds no shorter way through the same multigraph."""
    found = survey(wire(CHAIN))
    shortest = nx.shortest_path(found.network.graph, "far", "engine.feed")
    parts = tuple(dict.fromkeys(found.network.part_of(node) for node in shortest))
    assert found.fuel_path("far", "engine").path.parts == parts


def test_fuel_goes_through_the_pickup_not_the_vent_tube():
    """Where the gas space is joined to the suction side too, fuel still comes by the pickup."""
    text = "vent - m.vent; m.top - tee1; m.pick - filter - tee1; tee1 - pump - engine"
    found = survey(wire(text))
    assert found.fuel_path("m", "engine").port == "m.pick"
    assert [dry.port for dry in found.dry_ports] == ["m.top"]


def test_closed_valve_bars_the_engine_and_is_named():
    """An engine behind a valve closed in flight is unfed, and the valve is named."""
    found = survey(wire("vent - m.vent; m.pick - shut - pump - engine"))
    assert found.unfed == ("engine",)
    assert found.feeds["engine"].barred_by == ("shut",)
    assert found.feeds["engine"].pumps == ("pump",)
    assert found.lines["line-2"].role is Role.SUCTION


def test_reversed_pump_and_check_valve_are_named():
    """A pump joined the wrong way round, or a check valve against the flow, is named."""
    pump = survey(wire("vent - m.vent; m.pick - pump.out; pump.in - engine"))
    check = survey(wire("vent - m.vent; m.pick - check.out; check.in - pump - engine"))
    assert pump.feeds["engine"].barred_by == ("pump",)
    assert check.feeds["engine"].barred_by == ("check",)
    assert [part.against for part in check.one_way] == [True]


def test_unjoined_engine_has_no_path():
    """An engine no line joins is unfed and a dead end."""
    found = survey(wire("vent - m.vent; m.pick - pump", alone="engine"))
    assert found.unfed == ("engine",)
    assert {end.name for end in found.dead_ends} == {"pump.out", "engine.feed"}


def test_air_path_passes_the_tanks_behind():
    """Air comes to the near tank through the far one, and to the far one directly."""
    found = survey(wire(CHAIN))
    assert found.air_path("far").through == ()
    assert found.air_path("header").through == ("far", "near")
    assert found.air_path("header").opening == "vent"
    assert found.air_path("header").is_open


def test_air_does_not_run_against_the_fuel():
    """A vent on the near tank gives no air to the tank behind it."""
    found = survey(wire("vent - near.vent; far.pick - near.in; near.pick - pump - engine"))
    assert found.airless == ("far",)
    assert found.air_path("far") is None


@pytest.mark.parametrize(
    ("vent", "closed"),
    [
        ("plugged - m.vent", ("plugged",)),
        ("vent - shut - m.vent", ("shut",)),
        ("vent - m.cap", ("m.cap",)),
        ("vent - check.out; check.in - m.vent", ("check",)),
    ],
)
def test_closed_air_path_names_what_closes_it(vent, closed):
    """A plug, closed valve, cap or check valve in the only vent leaves the tank airless."""
    found = survey(wire(f"{vent}; m.pick - pump - engine"))
    assert found.airless == ("m",)
    assert found.air_path("m").closed == closed
    assert not found.air_path("m").is_open


def test_check_valve_opening_inwards_lets_air_in():
    """A check valve that opens inwards lets the tank breathe and stops the overflow."""
    found = survey(wire("vent - check - m.vent; m.pick - pump - engine; fill - m.fill"))
    assert found.airless == ()
    assert found.fill.dead_ended == ("m",)


def test_connectors_count_once_whatever_their_tube_ends():
    """From the far tank to the pump fuel passes a tee and a valve; tanks are no connectors."""
    found = survey(wire(CHAIN)).connectors("engine")
    assert (found.tank, found.to, found.parts) == ("far", "pump", ("tee1", "valve"))
    assert found.count == 2


def test_tanks_feeding_an_engine_come_in_feed_order():
    """The tanks of an engine are listed first to empty first."""
    assert survey(wire(CHAIN)).tanks_feeding("engine") == ("far", "near", "header")


def test_a_fitting_in_a_line_is_a_connector():
    """An elbow in a line before the pump counts, one behind it does not."""
    layout = wire(CHAIN)
    elbow = Elbow(kind="elbow-90", bore=3e-3)
    for name, count in (("line-3", 3), ("line-7", 2)):
        lines = {**layout.lines, name: replace(layout.lines[name], fittings=(elbow,))}
        assert survey(replace(layout, lines=lines)).connectors("engine").count == count
