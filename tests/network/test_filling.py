"""Filling: order, overflow, reversed filters and pickups, flooding."""

import pytest

from plumbing.network import survey

from .wiring import wire

END = "; header.out - tee1 - valve - pump - engine; fill - tee1"
CHAIN = "vent - far.vent; far.pick - near.in; near.pick - header.in" + END


@pytest.mark.outside(
    "common practice: filled at the header a chain fills backwards and overflows at the far vent",
    quantity="filling order of a chain",
)
def test_chain_fills_backwards():
    """Filled at the header, the near tank fills before the far one, where it overflows."""
    fill = survey(wire(CHAIN)).fill
    assert fill.order == (("header",), ("near",), ("far",))
    assert [(o.tank, o.opening) for o in fill.overflows] == [("far", "vent")]
    assert fill.last_is_overflow
    assert fill.path_to("near").parts == ("fill", "tee1", "header", "near")


@pytest.mark.outside(
    "common practice: filling a chain at its far end fills the far tank only",
    quantity="tanks filled from the far end",
)
def test_filling_at_the_far_end_fills_only_the_far_tank():
    """Filled at the far tank, the air of the nearer ones has no way out."""
    text = "vent - far.vent; far.pick - near.in; near.pick - valve - pump - engine; fill - far.fill"
    fill = survey(wire(text)).fill
    assert fill.filled == ("far",)
    assert fill.dead_ended == ("near",)


def test_second_vent_spills_before_the_far_tank_is_full():
    """With a vent on the near tank too, fuel comes out before the last tank is full."""
    assert not survey(wire(CHAIN + "; vent2 - near.vent")).fill.last_is_overflow


def test_no_outlet_no_filling():
    """Without an open outlet no tank fills, and nothing overflows."""
    fill = survey(wire("m.pick - tee1 - valve - pump - engine; fill - tee1")).fill
    assert fill.order == ()
    assert fill.dead_ended == ("m",)
    assert not fill.last_is_overflow


def test_open_valve_floods_the_engine():
    """With no closed valve between the fill point and the engine, fuel gets there."""
    (guarded,) = survey(wire(CHAIN)).fill.engines
    (flooded,) = survey(wire(CHAIN.replace("valve - ", ""))).fill.engines
    assert (guarded.valves, guarded.floods) == (("valve",), False)
    assert (flooded.valves, flooded.floods) == ((), True)


def test_fuel_backwards_through_filter_and_fine_pore_pickup():
    """A filter passed from out to in and a fine-pore pickup passed inwards are named."""
    text = "vent - m.vent; m.pick - header.in; header.fine - filter - tee1 - valve - pump - engine"
    fill = survey(wire(text + "; fill - tee1")).fill
    assert fill.reversed_filters == ("filter",)
    assert fill.reversed_pickups == ("header.fine",)
    forward = survey(wire("vent - m.vent; m.fine - pump - engine; fill - filter - m.fill")).fill
    assert forward.reversed_filters == ()
    assert forward.reversed_pickups == ()


def test_valve_closed_while_filling_is_named():
    """A tank behind a valve closed while filling is not reached, and the valve is named."""
    text = "vent - m.vent; m.pick - valve2 - header.in" + END
    fill = survey(wire(text)).fill
    assert "m" not in fill.filled
    assert fill.path_to("m") is None
    assert fill.closed_valves == ("valve2",)


def test_check_valve_against_filling_stops_it():
    """A check valve from the main to the header stops filling backwards."""
    fill = survey(wire("vent - m.vent; m.pick - check - header.in" + END)).fill
    assert "m" not in fill.filled
    assert fill.path_to("m") is None


def test_two_fill_ports():
    """Of several fill ports the stated one is used; tanks none of them fills are told."""
    text = (
        "vent1 - a.vent; a.pick - pump1 - engine1; fill1 - a.fill;"
        "vent2 - b.vent; b.pick - pump2 - engine2; fill2 - b.fill; vent3 - c.vent"
    )
    layout = wire(text)
    assert survey(layout).fill is None
    assert survey(layout).fills["fill2"].filled == ("b",)
    assert survey(layout).unfilled == ("c",)
    assert list(survey(layout).fills) == ["fill1", "fill2"]
    with pytest.raises(KeyError):
        survey(layout).fills["none"]


def test_stated_fill_port_is_used():
    """`filling.port` chooses the fill port."""
    from plumbing.model.ground import Filling

    layout = wire("vent - a.vent; fill1 - a.one; fill2 - a.two", filling=Filling(port="fill2"))
    assert survey(layout).fill.port == "fill2"


def test_stopped_transfer_pump_fills_nothing_but_may_flood():
    """Fuel for filling does not pass a stopped pump, but seeps through it to an open engine."""
    text = "vent - m.vent; m.pick - pump1 - header.in; header.out - pump2 - engine; fill - m.fill"
    fill = survey(wire(text)).fill
    assert fill.path_to("header") is None
    assert [engine.floods for engine in fill.engines] == [True]
