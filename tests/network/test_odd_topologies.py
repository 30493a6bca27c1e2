"""Any wiring gives a survey; nothing is lost in it, and it does not blow up."""

from itertools import pairwise

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plumbing.network import Flow, Role, survey
from plumbing.network.build import Join
from plumbing.network.graphs import between, dominators

from .wiring import wire

PORTS = {
    "tank": ("pick", "in", "vent", "cap"),
    "header": ("fine", "in", "top"),
    "tee": ("run-a", "run-b", "branch"),
    **dict.fromkeys(("pump", "filter", "valve", "shut", "check", "plug"), ("in", "out")),
    **dict.fromkeys(("vent", "plugged", "fill", "drain"), ("tube",)),
    "engine": ("feed",),
}


@st.composite
def wirings(draw):
    """Random lines between random ports, each port joined at most once, some parts left alone."""
    kinds = draw(st.lists(st.sampled_from(sorted(PORTS)), min_size=1, max_size=14))
    names = [f"{kind}{number}" for number, kind in enumerate(kinds)]
    ports = [f"{n}.{p}" for n, kind in zip(names, kinds, strict=True) for p in PORTS[kind]]
    mixed = draw(st.permutations(ports))
    count = draw(st.integers(0, len(mixed) // 2))
    text = "; ".join(f"{mixed[2 * n]} - {mixed[2 * n + 1]}" for n in range(count))
    order = tuple(n for n in names if n.startswith(("tank", "header")))
    return text, " ".join(names), draw(st.permutations(order))


@settings(max_examples=150, deadline=None)
@given(wirings())
def test_any_wiring_gives_a_survey(case):
    """Random wirings: every line has a role, every tank a group, every question an answer."""
    text, names, order = case
    found = survey(wire(text, alone=names, feed_order=tuple(order)))
    layout = found.network.layout
    assert set(found.lines) == set(layout.lines) == set(found.lengths)
    assert sorted(found.order.tanks) == sorted(layout.tanks)
    assert sorted(p for i in found.islands for p in i.parts) == sorted(
        p.name for p in layout.parts()
    )
    for tank in layout.tanks:
        air = found.air_path(tank)
        assert (tank in found.airless) == (air is None or not air.is_open)
    for engine in layout.engines:
        feeding = found.tanks_feeding(engine)
        assert (engine in found.unfed) == (not feeding) == (found.connectors(engine) is None)
        for tank in feeding:
            path = found.fuel_path(tank, engine).path
            assert (path.parts[0], path.parts[-1]) == (tank, engine)
    for fill in found.fills.values():
        groups = (*fill.filled, *fill.dead_ended)
        assert len(set(groups)) == len(groups)
        assert set(groups) == {tank for tank in layout.tanks if fill.path_to(tank)}


@settings(max_examples=60, deadline=None)
@given(wirings())
def test_turning_a_line_round_turns_only_its_flow(case):
    """Written the other way round, a line keeps its role and its flow is mirrored."""
    text, names, _ = case
    turned = "; ".join(" - ".join(reversed(line.split(" - "))) for line in text.split("; "))
    mirror = {Flow.FORWARD: Flow.BACKWARD, Flow.BACKWARD: Flow.FORWARD}
    one, other = survey(wire(text, alone=names)), survey(wire(turned, alone=names))
    for name, use in one.lines.items():
        assert other.lines[name].role is use.role
        assert other.lines[name].flow is mirror.get(use.flow, use.flow)
    assert one.order == other.order


@settings(max_examples=40, deadline=None)
@given(wirings())
def test_fuel_never_runs_backwards(case):
    """Along any way of fuel each line is passed in its direction of flow."""
    text, names, _ = case
    found = survey(wire(text, alone=names))
    for engine in found.network.layout.engines:
        for tank in found.tanks_feeding(engine):
            path = found.fuel_path(tank, engine).path
            uses = {frozenset((u.start, u.end)): u for u in found.lines.values()}
            for start, end in pairwise(path.ports):
                use = uses.get(frozenset((start, end)))
                if use is not None and use.flow is not Flow.EITHER:
                    assert (use.upstream, use.downstream) == (start, end)


graphs = st.lists(st.tuples(st.sampled_from("abcdefg"), st.sampled_from("abcdefg")), max_size=14)


@settings(max_examples=150, deadline=None)
@given(graphs)
def test_between_is_the_union_of_all_simple_paths(pairs):
    """Second method: on small graphs the blocks give what listing every simple path gives."""
    graph = nx.Graph((one, other) for one, other in pairs if one != other)
    graph.add_nodes_from("ag")
    listed = {node for path in nx.all_simple_paths(graph, "a", "g") for node in path}
    assert between(pairs, "a", "g") == listed


@settings(max_examples=100, deadline=None)
@given(graphs)
def test_dominators_are_the_nodes_whose_loss_cuts_off(pairs):
    """Second method: a node is cut off from the root exactly when one of its dominators is lost."""
    graph = nx.DiGraph([*pairs, ("root", "a")])
    last = dominators(graph.edges, "root")
    reached = nx.descendants(graph, "root")
    assert set(last) == reached
    for lost in reached:
        left = graph.copy()
        left.remove_node(lost)
        for node in reached - {lost} - nx.descendants(left, "root"):
            chain, step = set(), node
            while step != "root":
                step = last[step]
                chain.add(step)
            assert lost in chain


@pytest.mark.parametrize(
    "text",
    [
        "",
        "pump.out - pump.in",
        "m.a - m.b",
        "tee1.run-a - tee1.run-b",
        "vent - vent2",
        "engine - engine2",
        "engine - fill",
        "vent - engine",
        "m.pick - m.pick2; vent - m.vent",
        "pump1.out - pump2.in; pump2.out - pump1.in",
        "a.pick - b.in; b.pick - c.in; c.pick - a.in",
        "m.pick - pump.in; pump.out - m.in",
    ],
)
def test_senseless_wiring(text):
    """Loops, lines to nowhere and parts joined to themselves give a survey."""
    found = survey(wire(text))
    assert all(isinstance(use.role, Role) for use in found.lines.values())


def test_work_grows_with_the_network_not_with_its_paths(monkeypatch):
    """A ladder of twice the rungs, with 2^160 more ways, takes about twice the steps."""
    asked = []
    passes = Join.passes

    def counted(join, condition, forward):
        asked[-1] += 1
        return passes(join, condition, forward)

    monkeypatch.setattr(Join, "passes", counted)
    for rungs in (160, 320):
        asked.append(0)
        survey(wire(_ladder(rungs)))
    assert 0 < asked[1] < 2.2 * asked[0]


def _ladder(rungs: int) -> str:
    lines = ["vent - m.vent", "m.pick - tee0a.run-a", "m.low - tee0b.run-a"]
    for number in range(rungs):
        lines.append(f"tee{number}a.branch - tee{number}b.branch")
        if number:
            lines += [f"tee{number - 1}{s}.run-b - tee{number}{s}.run-a" for s in "ab"]
    lines += [
        f"tee{rungs - 1}a.run-b - pump1 - engine1",
        f"tee{rungs - 1}b.run-b - pump2 - engine2",
    ]
    return "; ".join(lines)
