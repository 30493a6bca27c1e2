"""Runs: what hangs together between tanks and pumps, such as header, tee, fill port and pump."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from plumbing.frozen import frozen
from plumbing.model.tank import Pickup
from plumbing.network.build import Join, Network
from plumbing.network.graphs import components
from plumbing.network.roles import Barrier, PartKind


@frozen
class Run:
    """Lines and parts joined without a tank or pump between them.

    Attributes
    ----------
    lines, parts : tuple of str
        Lines of the run; tees, filters, valves and connectors in it.
    tank_ports, pump_inlets, pump_outlets, engines, outlets, fill_ports, drains : tuple of str
        Port nodes at which it ends.
    nodes : tuple of str
        All its nodes.
    joins : tuple of int
        Its joins in `Network.joins`.
    """

    lines: tuple[str, ...]
    parts: tuple[str, ...]
    tank_ports: tuple[str, ...]
    pump_inlets: tuple[str, ...]
    pump_outlets: tuple[str, ...]
    engines: tuple[str, ...]
    outlets: tuple[str, ...]
    fill_ports: tuple[str, ...]
    drains: tuple[str, ...]
    nodes: tuple[str, ...] = field(repr=False)
    joins: tuple[int, ...] = field(repr=False)

    @property
    def demands(self) -> tuple[str, ...]:
        """Where fuel leaves the run for a pump or engine."""
        return self.pump_inlets + self.engines


@frozen
class Runs:
    """All runs and which one a node is in."""

    all: tuple[Run, ...]
    of: Mapping[str, int] = field(repr=False)

    def at(self, node: str) -> int | None:
        """Number of the run a port is in, or None for a port without a line."""
        return self.of.get(node)


def cut(network: Network, at_closed_valves: bool) -> Runs:
    """Cut the network at tanks and pumps, and where wanted at valves closed in flight."""
    kept = [
        number
        for number, join in enumerate(network.joins)
        if not _is_cut(network, join, at_closed_valves)
    ]
    ports = [node for node in network.nodes if not network.is_tank(node)]
    groups = components(ports, ((network.joins[n].start, network.joins[n].end) for n in kept))
    of = {node: number for number, group in enumerate(groups) for node in group}
    joins: list[list[int]] = [[] for _ in groups]
    for number in kept:
        joins[of[network.joins[number].start]].append(number)
    return Runs(
        tuple(_run(network, group, tuple(joins[n])) for n, group in enumerate(groups)),
        of,
    )


def _is_cut(network: Network, join: Join, at_closed_valves: bool) -> bool:
    if join.kind == "line":
        return False
    if network.is_tank(join.end) or join.barrier is Barrier.PUMP:
        return True
    return at_closed_valves and join.barrier is Barrier.VALVE and not join.flight


def _run(network: Network, nodes: tuple[str, ...], joins: tuple[int, ...]) -> Run:
    def ends(kind: PartKind, port: str = "") -> tuple[str, ...]:
        found = (network.nodes[node] for node in nodes)
        return tuple(n.name for n in found if n.kind is kind and port in ("", n.port))

    middle = (PartKind.TEE, PartKind.FILTER, PartKind.VALVE, PartKind.CONNECTOR)
    parts = (network.nodes[node] for node in nodes)
    return Run(
        lines=tuple(network.joins[n].name for n in joins if network.joins[n].kind == "line"),
        parts=tuple(dict.fromkeys(n.part for n in parts if n.kind in middle)),
        tank_ports=ends(PartKind.TANK),
        pump_inlets=ends(PartKind.PUMP, "in"),
        pump_outlets=ends(PartKind.PUMP, "out"),
        engines=ends(PartKind.ENGINE),
        outlets=ends(PartKind.OUTLET),
        fill_ports=ends(PartKind.FILL_PORT),
        drains=ends(PartKind.DRAIN),
        nodes=nodes,
        joins=joins,
    )


def pickup_at(network: Network, node: str) -> Pickup | None:
    """Pickup on the inner side of a tank port, if there is one."""
    found = network.nodes[node]
    if found.kind is not PartKind.TANK or not found.port:
        return None
    return network.layout.tanks[found.part].ports[found.port].pickup


def is_capped(network: Network, node: str) -> bool:
    """Whether a tank port is capped in flight."""
    found = network.nodes[node]
    return found.kind is PartKind.TANK and network.layout.tanks[found.part].ports[found.port].capped
