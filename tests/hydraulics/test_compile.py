"""Layouts to circuits: the branches and elements a person would list, for tidy and odd wirings."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from network.test_odd_topologies import wirings
from network.wiring import wire

from plumbing import api
from plumbing.hydraulics.compile import compile_delivery, compile_suction
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.layout_circuit import (
    NO_TANK,
    ChangeRow,
    FilterRow,
    FittingRow,
    Tag,
    TubeRow,
    backwards,
)
from plumbing.hydraulics.line_elements import Reference
from plumbing.hydraulics.solver import solve
from plumbing.network import survey

REFERENCE = Reference(flow=2e-6, viscosity=1.3e-3)


def suction(layout, **more):
    """Suction circuit of a layout."""
    return compile_suction(layout, survey(layout), REFERENCE, **more)


def wired(text, **more):
    """Suction circuit of a wiring, every line 300 mm long."""
    layout = wire(text, **more)
    lines = {name: replace(line, cut_length=0.3) for name, line in layout.lines.items()}
    return suction(replace(layout, lines=lines))


def ends(plumbed):
    """Both nodes of every branch, as sets."""
    circuit = plumbed.circuit
    pairs = zip(circuit.start, circuit.end, strict=True)
    return [{circuit.nodes[a], circuit.nodes[b]} for a, b in pairs]


DEMOS = {
    "single-main": [
        {"main", "header"},
        {"main", "vent.tube"},
        {"header", "pump.in"},
    ],
    "chained-pair": [
        {"port", "starboard"},
        {"port", "vent.tube"},
        {"starboard", "header"},
        {"header", "pump.in"},
    ],
    "teed-pair": [
        {"port", "suction tee"},
        {"starboard", "suction tee"},
        {"suction tee", "header"},
        {"port", "vent tee"},
        {"starboard", "vent tee"},
        {"vent tee", "vent.tube"},
        {"header", "pump.in"},
    ],
    "twin": [
        *({f"{side} main", f"{side} header"} for side in ("port", "starboard")),
        *({f"{side} main", f"{side} vent.tube"} for side in ("port", "starboard")),
        *({f"{side} header", f"{side} pump.in"} for side in ("port", "starboard")),
    ],
    "wings-into-main": [
        {"port wing", "starboard wing"},
        {"port wing", "vent.tube"},
        {"starboard wing", "main"},
        {"main", "header"},
        {"header", "pump.in"},
    ],
}


@pytest.mark.outside("listed by hand from the drawings", quantity="branches of the demos")
@pytest.mark.parametrize("name", DEMOS)
def test_branches_are_those_a_person_would_list(name):
    """Between tanks, tees, openings and pumps, with the closed fill line left off."""
    layout = api.load(f"layouts/{name}.yaml")
    found = ends(suction(layout))
    assert sorted(map(sorted, found)) == sorted(map(sorted, DEMOS[name]))


def test_elements_of_a_branch_are_those_along_it():
    """From header to pump: its mouth, then barb, tube and barb of each line, and the parts."""
    layout = api.load("layouts/chained-pair.yaml")
    plumbed = suction(layout)
    circuit = plumbed.circuit
    branch = next(n for n, pair in enumerate(ends(plumbed)) if pair == {"header", "pump.in"})
    tags = [plumbed.tags[n] for n in np.flatnonzero(circuit.element_branch == branch)]
    if circuit.nodes[circuit.start[branch]] != "header":
        tags.reverse()
    passed = [tag.part or tag.line for tag in tags]
    seen = [name for n, name in enumerate(passed) if n == 0 or passed[n - 1] != name]
    assert seen == [
        *("header.out", "header", "header to tee", "fill tee"),
        *("tee to shut-off", "shut-off"),
        *("shut-off to screen", "screen"),
        *("screen to pump", "pump"),
    ]


def test_elements_turn_round_with_the_branch():
    """Met from the other end, elements come in the other order and changes of bore swap sides."""
    tag = Tag("line", "", "x")
    rows = [
        FittingRow(tag, 4e-3, 1.0, 2.0, 3.0),
        ChangeRow(tag, 4e-3, 3e-3),
        TubeRow(tag, 0.1, 3e-3),
        FilterRow(tag, 1e3, None, 1e-6, 1e-3),
    ]
    turned = backwards(rows)
    assert [type(row) for row in turned] == [FilterRow, TubeRow, ChangeRow, FittingRow]
    assert (turned[2].before, turned[2].after) == (3e-3, 4e-3)
    assert backwards(turned) == rows


def test_direction_a_line_is_drawn_in_does_not_matter():
    """A line written from pump to tank gives the same drops as one from tank to pump."""
    one, two = (
        wired(f"vent - main.vent; {way} ; pump - engine")
        for way in ("main.pick - filter - pump.in", "filter.in - main.pick; pump.in - filter.out")
    )
    pressures = []
    for plumbed in (one, two):
        circuit = plumbed.circuit
        demand = plumbed.demand(np.array([[3e-6]]))
        solved = solve(circuit, Conditions.of(circuit, demand=demand))
        pressures.append(solved.pressure[0, plumbed.demand_node[0]])
    assert pressures[0] == pytest.approx(pressures[1], rel=1e-12)
    assert pressures[0] < 0.0


class TestOddWirings:
    """Each odd wiring gives the right arrays, and no traceback."""

    def test_closed_valve(self):
        """A valve closed in flight stays in the circuit and blocks both ends of its branch."""
        plumbed = wired("vent - main.vent; main.pick - shut - pump - engine")
        blocked = plumbed.blocked(frozenset({"shut"}))
        branch, _ = plumbed.valve_branch["shut"]
        assert blocked[branch].all()
        assert blocked.sum() == 2

    @pytest.mark.parametrize("way", ["main.pick - check - pump", "pump.in - check - main.pick"])
    def test_check_valve(self, way):
        """Nothing enters a check valve from behind, whichever way its line is drawn."""
        plumbed = wired(f"vent - main.vent; {way}; pump.out - engine")
        branch, along = plumbed.valve_branch["check"]
        assert plumbed.one_way.sum() == 1
        assert plumbed.one_way[branch, 1 if along else 0]
        demand = plumbed.demand(np.array([[3e-6]]))
        conditions = Conditions.of(
            plumbed.circuit, demand=demand, blocked=plumbed.blocked(frozenset())
        )
        fed = not solve(plumbed.circuit, conditions).starved.any()
        assert fed is way.startswith("main")

    def test_capped_port(self):
        """A capped port leads nowhere: its line and what hangs on it are left off."""
        plumbed = wired("vent - main.vent; main.pick - pump - engine; main.cap - tee; tee - filter")
        assert sorted(map(sorted, ends(plumbed))) == [["main", "pump.in"], ["main", "vent.tube"]]

    def test_dead_end_behind_a_tee(self):
        """A tee's unused leg makes an open port: air can come in there."""
        plumbed = wired("vent - main.vent; main.pick - tee; tee - pump - engine")
        assert "tee" in " ".join(plumbed.outlets)

    def test_closed_fill_line_is_pruned(self):
        """The line of a closed fill port carries nothing in flight, and its tee is no station."""
        text = "vent - main.vent; main.pick - tee; tee - pump - engine; tee - fill"
        layout = wire(text)
        plumbed = suction(layout)
        assert sorted(map(sorted, ends(plumbed))) == [["main", "pump.in"], ["main", "vent.tube"]]
        filling = suction(layout, filling=True)
        assert filling.fills == ("fill",)
        assert {"fill.tube", "tee"} in ends(filling)

    def test_tank_no_line_reaches(self):
        """A tank no branch reaches keeps its place among the tanks, without a node."""
        plumbed = wired("vent - main.vent; main.pick - pump - engine", alone="lonely")
        assert set(plumbed.tanks) == {"main", "lonely"}
        assert plumbed.tank_node[plumbed.tanks.index("lonely")] == NO_TANK
        assert plumbed.tank_node[plumbed.tanks.index("main")] != NO_TANK

    def test_two_pumps_on_one_tank(self):
        """Two pumps that draw from one tank are two demands."""
        plumbed = wired(
            "vent - main.vent; main.pick - tee; tee - pump1 - engine1; tee - pump2 - engine2"
        )
        assert set(plumbed.demands) == {"pump1", "pump2"}
        drawn = plumbed.demand(np.array([[1e-6, 2e-6]]))
        assert drawn[0, plumbed.demand_node] == pytest.approx([1e-6, 2e-6])

    def test_loop_of_tees(self):
        """Three tees in a ring give three branches round it, and a pump still gets its fuel."""
        plumbed = wired(
            "vent - main.vent; main.pick - tee1.branch; tee1.run-a - tee2.run-a;"
            "tee2.run-b - tee3.run-a; tee3.run-b - tee1.run-b; tee2.branch - pump - engine;"
            "tee3.branch - other.in; vent2 - other.vent"
        )
        found = ends(plumbed)
        for pair in ({"tee1", "tee2"}, {"tee2", "tee3"}, {"tee1", "tee3"}):
            assert found.count(pair) == 1
        demand = plumbed.demand(np.array([[3e-6]]))
        solved = solve(plumbed.circuit, Conditions.of(plumbed.circuit, demand=demand))
        assert solved.converged.all()

    def test_line_from_a_tank_to_itself(self):
        """It is kept, as it may join pockets; between two ports of one surface nothing flows."""
        plumbed = wired("vent - main.vent; main.pick - pump - engine; main.one - main.two")
        assert all(len(pair) == 2 for pair in ends(plumbed))
        back = [pair == {"main", "main.one"} for pair in ends(plumbed)]
        assert sum(back) == 2
        demand = plumbed.demand(np.array([[3e-6]]))
        solved = solve(plumbed.circuit, Conditions.of(plumbed.circuit, demand=demand))
        assert not solved.flow[0, back].any()

    def test_nothing_joined(self):
        """Without any line to a tank there is no circuit."""
        assert suction(wire("pump - engine", alone="main")) is None

    def test_lines_of_no_length(self):
        """Ports at one point and no stated length: a line of next to no length, no fault."""
        plumbed = suction(wire("vent - main.vent; main.pick - pump - engine"))
        solved = solve(
            plumbed.circuit,
            Conditions.of(plumbed.circuit, demand=plumbed.demand(np.array([[3e-6]]))),
        )
        assert solved.converged.all()

    def test_delivery_stops_at_the_pump(self):
        """The pressure side runs from the pump's outlet to the engine and knows no tank."""
        layout = wire("vent - main.vent; main.pick - pump - filter - valve - engine")
        plumbed = compile_delivery(layout, survey(layout), REFERENCE, "pump")
        assert ends(plumbed) == [{"pump.out", "engine.feed"}]
        assert plumbed.circuit.fixed.sum() == 1
        assert plumbed.demands == ("engine",)

    def test_filter_is_priced_at_the_flow_it_passes(self):
        """In a twin with separate sides, each filter's stated drop is at its own engine's flow."""
        layout = api.load("layouts/twin.yaml")
        plumbed = suction(layout)
        engine = layout.engines["port engine"]
        number = next(
            n
            for n, place in enumerate(plumbed.circuit.filters.element)
            if plumbed.tags[place].part == "port screen"
        )
        stated = layout.filters["port screen"].clean_drop
        linear = plumbed.circuit.filters.linear[number]
        assert linear * REFERENCE.viscosity * engine.full_flow == pytest.approx(stated)


@settings(max_examples=80, deadline=None)
@given(wirings())
def test_any_wiring_compiles(case):
    """Random wirings give no circuit, or a sound one with every branch between two stations."""
    text, names, order = case
    layout = wire(text, alone=names, feed_order=tuple(order))
    found = survey(layout)
    for filling in (False, True):
        plumbed = compile_suction(layout, found, REFERENCE, filling=filling)
        if plumbed is None:
            continue
        circuit = plumbed.circuit
        assert (circuit.start != circuit.end).all()
        assert len(plumbed.tags) == len(circuit.elements)
        assert plumbed.end_tank.shape == (len(circuit.branches), 2)
        demand = plumbed.demand(np.full((1, len(plumbed.demands)), 1e-6))
        blocked = plumbed.blocked(frozenset(layout.valves))
        solved = solve(circuit, Conditions.of(circuit, demand=demand, blocked=blocked))
        assert np.isfinite(solved.pressure).all()
        assert np.isfinite(solved.flow).all()
