"""Roles and directions of lines, found from the topology."""

import pytest

from plumbing.network import Flow, Role, survey

from .wiring import line_from, wire

END = "; header.out - tee1 - valve - pump - filter - engine; fill - tee1"
CHAIN = "vent - far.vent; far.pick - near.in; near.pick - header.in" + END
SOURCE = "common practice: the series, parallel and boost-pump topologies of the trade"


def use(text, start, end, **changes):
    """Use of the line between two parts."""
    layout = wire(text, **changes)
    return survey(layout).lines[line_from(layout, start, end)]


@pytest.mark.outside(SOURCE, quantity="role of each line")
@pytest.mark.parametrize(
    ("start", "end", "role"),
    [
        ("vent", "far", Role.VENT),
        ("far", "near", Role.SUCTION),
        ("near", "header", Role.SUCTION),
        ("header", "tee1", Role.SUCTION),
        ("valve", "pump", Role.SUCTION),
        ("pump", "filter", Role.PRESSURE),
        ("filter", "engine", Role.PRESSURE),
        ("fill", "tee1", Role.FILL),
    ],
)
def test_chain_roles(start, end, role):
    """In a chain everything up to the pump is suction, behind it pressure."""
    assert use(CHAIN, start, end).role is role


def test_direction_follows_the_way_to_the_pump():
    """A line flows from the far tank to the near one, whichever way it is written."""
    turned = CHAIN.replace("far.pick - near.in", "near.in - far.pick")
    assert use(CHAIN, "far", "near").flow is Flow.FORWARD
    assert use(turned, "far", "near").flow is Flow.BACKWARD
    assert use(turned, "far", "near").upstream == "far.pick"
    assert use(turned, "far", "near").downstream == "near.in"


def test_vent_lines_flow_inwards():
    """A vent line is read from the outlet to the tank, for that is the way of the air."""
    text = (
        "a.vent - tee2; b.vent - tee2; tee2 - vent;"
        "a.pick - tee3; b.pick - tee3; tee3 - pump - engine"
    )
    assert use(text, "a", "tee2").role is Role.VENT
    assert use(text, "a", "tee2").downstream == "a.vent"
    assert use(text, "tee2", "vent").upstream == "vent.tube"


def test_balance_line_has_no_direction():
    """A low line between two teed tanks balances and flows either way."""
    text = "a.pick - tee; b.pick - tee; tee - pump - engine; a.low - b.low; vent - a.vent"
    assert use(text, "a", "b").role is Role.BALANCE
    assert use(text, "a", "b").flow is Flow.EITHER


@pytest.mark.outside(SOURCE, quantity="role of a header's bleed into the tank behind it")
def test_bleed_into_the_feeding_tank_is_a_return():
    """A header's bleed into the top of the tank that feeds it is no suction line."""
    text = "vent - main.vent; main.pick - header.in; header.top - plug - main.top" + END
    assert use(text, "header", "plug").role is Role.RETURN
    assert use(text, "plug", "main").role is Role.RETURN


def test_transfer_pump_delivers_into_the_header():
    """A boost pump's outlet line is pressure side, its overflow back to the main a return."""
    text = (
        "vent - main.vent; main.pick - pump1 - header.in; header.over - main.return;"
        "header.out - pump2 - engine"
    )
    assert use(text, "main", "pump1").role is Role.SUCTION
    assert use(text, "pump1", "header").role is Role.PRESSURE
    assert survey(wire(text)).stage == {"header": 0, "main": 1}
    returning = [u for u in survey(wire(text)).lines.values() if u.role is Role.RETURN]
    assert [u.line for u in returning] == ["line-4"]


def test_pumps_in_series():
    """Between two pumps the line is on the pressure side of the first."""
    text = "vent - main.vent; main.pick - pump1 - pump2 - engine"
    assert use(text, "main", "pump1").role is Role.SUCTION
    assert use(text, "pump1", "pump2").role is Role.PRESSURE
    assert survey(wire(text)).feeds["engine"].pumps == ("pump1", "pump2")


def test_engine_fed_by_two_pumps():
    """Two pumps side by side give two suction and two pressure lines."""
    text = (
        "vent - main.vent; main.pick - tee1; tee1 - pump1 - tee2; tee1 - pump2 - tee2;tee2 - engine"
    )
    found = survey(wire(text))
    assert len(found.of_role(Role.SUCTION)) == 3
    assert len(found.of_role(Role.PRESSURE)) == 3
    assert found.unfed == ()


def test_tee_loop_flows_towards_the_pump():
    """In a loop of two tees both branches flow towards the pump."""
    text = "vent - m.vent; m.pick - tee1; tee1 - tee2; tee1 - tee2; tee2 - pump - engine"
    found = survey(wire(text))
    assert {u.flow for u in found.of_role(Role.SUCTION)} == {Flow.FORWARD}


def test_closed_cross_feed_parts_two_systems():
    """A cross-feed valve closed in flight leaves each pump its own tank."""
    text = (
        "vent1 - a.vent; vent2 - b.vent; a.pick - tee1 - pump1 - engine1;"
        "b.pick - tee2 - pump2 - engine2; tee1 - {} - tee2"
    )
    assert survey(wire(text.format("shut1"))).teed == ()
    assert survey(wire(text.format("valve1"))).teed[0].tanks == ("a", "b")


def test_drain_and_loose_lines():
    """A line to a drain is a drain line, one between two open tees is loose."""
    text = "vent - m.vent; m.pick - pump - engine; m.low - drain; tee1.run-a - tee2.run-a"
    assert use(text, "m", "drain").role is Role.DRAIN
    assert use(text, "m", "drain").downstream == "drain.tube"
    assert use(text, "tee1", "tee2").role is Role.LOOSE


def test_suction_without_a_pump():
    """Without a pump the line from tank to engine is still its suction side."""
    assert use("vent - m.vent; m.pick - engine", "m", "engine").role is Role.SUCTION


def test_runs_end_at_tanks_and_pumps():
    """The run behind the header holds its tee and valve and ends at header, fill port, pump."""
    found = survey(wire(CHAIN))
    run = found.runs[found.lines["line-4"].run]
    assert set(run.parts) == {"tee1", "valve"}
    assert run.tank_ports == ("header.out",)
    assert run.pump_inlets == ("pump.in",)
    assert run.fill_ports == ("fill.tube",)


@pytest.mark.parametrize(
    ("line", "role"),
    [
        ("fill - shut1 - m.fill", Role.FILL),
        ("vent2 - shut1 - m.top", Role.VENT),
        ("m.low - shut1 - drain", Role.DRAIN),
    ],
)
def test_closed_valve_does_not_hide_what_a_line_is_for(line, role):
    """A fill, vent or drain line with a valve closed in flight keeps its role on both sides."""
    found = survey(wire(f"vent - m.vent; m.pick - pump - engine; {line}"))
    assert [found.lines[name].role for name in ("line-4", "line-5")] == [role, role]


def test_closed_cross_feed_is_a_balance_line():
    """A cross-feed with its valve closed has no direction and carries no fuel."""
    text = (
        "vent1 - a.vent; vent2 - b.vent; a.pick - tee1 - pump1 - engine1;"
        "b.pick - tee2 - pump2 - engine2; tee1 - shut1 - tee2"
    )
    found = survey(wire(text))
    crossing = found.of_role(Role.BALANCE)
    assert [use.line for use in crossing] == ["line-9", "line-10"]
    assert found.tanks_feeding("engine1") == ("a",)
