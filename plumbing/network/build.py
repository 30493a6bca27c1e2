"""The layout as a graph: ports are nodes, lines and passages inside parts are edges.

A tank and a tee have one more node, named as the part, between their ports: a tank's stands
for its contents, a tee's for its centre.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import field
from typing import TYPE_CHECKING, Literal, NamedTuple

from plumbing.frozen import frozen
from plumbing.model.engine import Engine
from plumbing.model.fields import Vector
from plumbing.model.layout import Layout, Part, port_bore, port_names, port_position, split_port
from plumbing.model.line import Line
from plumbing.model.parts import (
    Connector,
    Drain,
    FillPort,
    Filter,
    Outlet,
    Pump,
    Tee,
    Valve,
)
from plumbing.model.tank import Tank
from plumbing.network.graphs import multigraph
from plumbing.network.lengths import routed_length
from plumbing.network.roles import Barrier, Condition, PartKind

if TYPE_CHECKING:
    import networkx as nx

KINDS: Mapping[type[Part], PartKind] = {
    Tank: PartKind.TANK,
    Tee: PartKind.TEE,
    Filter: PartKind.FILTER,
    Pump: PartKind.PUMP,
    Valve: PartKind.VALVE,
    Connector: PartKind.CONNECTOR,
    Outlet: PartKind.OUTLET,
    FillPort: PartKind.FILL_PORT,
    Drain: PartKind.DRAIN,
    Engine: PartKind.ENGINE,
}


@frozen
class Node:
    """A port `part.port`, or the inside of a tank or tee (then the port is empty)."""

    name: str
    part: str
    port: str
    kind: PartKind
    position: Vector


@frozen
class Join:
    """A line, or a passage inside a part.

    Attributes
    ----------
    name : str
        Name of the line, or of the part.
    start, end : str
        Nodes; for a pump, filter, valve or connector `in` and `out`.
    kind : {"line", "inside"}
        Whether it is a line.
    length : float
        Cut length, or routed length where none is stated; 0 inside a part [m].
    bore : float or None
        Bore of the tube, or of the passage where it is stated [m].
    barrier : Barrier
        What may stop flow in it.
    flight, filling : bool
        Whether a valve stands open then.
    """

    name: str
    start: str
    end: str
    kind: Literal["line", "inside"]
    length: float = 0.0
    bore: float | None = None
    barrier: Barrier = Barrier.NONE
    flight: bool = True
    filling: bool = True

    def passes(self, condition: Condition, forward: bool) -> bool:
        """Whether flow can pass from start to end (forward) or back."""
        if self.barrier is Barrier.NONE:
            return True
        if self.barrier is Barrier.PUMP:
            return forward and condition is not Condition.FILLING
        if condition is Condition.OPEN:
            return True
        if self.barrier is Barrier.CHECK:
            return forward
        if self.barrier is Barrier.CAP:
            return False
        return self.flight if condition is Condition.FLIGHT else self.filling


class Beside(NamedTuple):
    """A neighbour of a node: over which join, and whether along it."""

    join: int
    node: str
    forward: bool


@frozen
class Network:
    """A layout as a graph.

    Attributes
    ----------
    layout : Layout
        What it was made from.
    graph : networkx.MultiGraph
        Nodes with `part`, `port`, `kind`, `position`; edges with `name`, `kind`, `length`,
        `bore`. Frozen.
    nodes : mapping of str to Node
        The same nodes as plain values.
    joins : tuple of Join
        The same edges as plain values.
    beside : mapping of str to tuple of Beside
        Neighbours of each node.
    """

    layout: Layout = field(repr=False)
    graph: nx.MultiGraph = field(repr=False, compare=False)
    nodes: Mapping[str, Node] = field(repr=False)
    joins: tuple[Join, ...] = field(repr=False)
    beside: Mapping[str, tuple[Beside, ...]] = field(repr=False, compare=False)

    def part_of(self, node: str) -> str:
        """Part a node belongs to."""
        return self.nodes[node].part

    def kind_of(self, node: str) -> PartKind:
        """Kind of part a node belongs to."""
        return self.nodes[node].kind

    def is_tank(self, node: str) -> bool:
        """Whether the node stands for a tank's contents."""
        found = self.nodes[node]
        return found.kind is PartKind.TANK and not found.port

    def is_joined(self, node: str) -> bool:
        """Whether a line ends at the port."""
        return any(self.joins[beside.join].kind == "line" for beside in self.beside[node])

    def of_kind(self, kind: PartKind) -> tuple[str, ...]:
        """Names of all parts of a kind."""
        return tuple(dict.fromkeys(n.part for n in self.nodes.values() if n.kind is kind))

    def ports_of(self, part: str) -> tuple[str, ...]:
        """Port nodes of a part."""
        return tuple(f"{part}.{port}" for port in port_names(self.layout.part(part)))


def build(layout: Layout) -> Network:
    """Graph of a layout whose references are in order (the reader has seen to that)."""
    nodes = {node.name: node for part in layout.parts() for node in _nodes(part)}
    joins = (
        *(join for part in layout.parts() for join in _inside(part)),
        *(_line(layout, line) for line in layout.lines.values()),
    )
    beside: dict[str, list[Beside]] = {name: [] for name in nodes}
    for number, join in enumerate(joins):
        beside[join.start].append(Beside(number, join.end, True))
        if join.end != join.start:
            beside[join.end].append(Beside(number, join.start, False))
    return Network(
        layout=layout,
        graph=multigraph(
            (
                (n.name, {"part": n.part, "port": n.port, "kind": n.kind, "position": n.position})
                for n in nodes.values()
            ),
            (
                (
                    j.start,
                    j.end,
                    {"name": j.name, "kind": j.kind, "length": j.length, "bore": j.bore},
                )
                for j in joins
            ),
        ),
        nodes=nodes,
        joins=joins,
        beside={name: tuple(found) for name, found in beside.items()},
    )


def _nodes(part: Part) -> Iterator[Node]:
    kind = KINDS[type(part)]
    if isinstance(part, Tank | Tee):
        yield Node(part.name, part.name, "", kind, _middle(part))
    for port in port_names(part):
        yield Node(f"{part.name}.{port}", part.name, port, kind, port_position(part, port))


def _middle(part: Tank | Tee) -> Vector:
    return part.shape.at if isinstance(part, Tank) else part.at


def _inside(part: Part) -> Iterator[Join]:
    name = part.name
    if isinstance(part, Tank):
        for port, own in part.ports.items():
            barrier = Barrier.CAP if own.capped else Barrier.NONE
            yield Join(name, f"{name}.{port}", name, "inside", bore=own.bore, barrier=barrier)
    elif isinstance(part, Tee):
        for port in port_names(part):
            yield Join(name, f"{name}.{port}", name, "inside", bore=part.bore)
    elif isinstance(part, Valve):
        yield Join(
            name,
            f"{name}.in",
            f"{name}.out",
            "inside",
            bore=part.bore,
            barrier=Barrier.CHECK if part.kind == "check" else Barrier.VALVE,
            flight=part.flight == "open",
            filling=part.filling == "open",
        )
    elif isinstance(part, Filter | Pump | Connector):
        barrier = Barrier.PUMP if isinstance(part, Pump) else Barrier.NONE
        bore = min(port_bore(part, "in") or math.inf, port_bore(part, "out") or math.inf)
        yield Join(name, f"{name}.in", f"{name}.out", "inside", bore=bore, barrier=barrier)


def _line(layout: Layout, line: Line) -> Join:
    tube = layout.tubes.get(line.tube) or layout.catalogue.get(line.tube)
    return Join(
        line.name,
        node_name(layout, line.from_),
        node_name(layout, line.to),
        "line",
        length=line.cut_length or routed_length(layout, line),
        bore=tube.inside_diameter if tube else None,
    )


def node_name(layout: Layout, reference: str) -> str:
    """Node a line's end refers to; a bare name stands for the only port of a part."""
    part, port = split_port(reference)
    return f"{part}.{port or port_names(layout.part(part))[0]}"
