"""Spreading through the network from some nodes, and the shortest ways that gives."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import field

from plumbing.frozen import frozen
from plumbing.network.build import Network
from plumbing.network.roles import Barrier, Condition, PartKind

Allow = Callable[[int, bool], bool]


@frozen
class Path:
    """A way through the system, in order.

    Attributes
    ----------
    parts : tuple of str
        Parts passed, first and last included.
    lines : tuple of str
        Lines passed.
    ports : tuple of str
        Ports passed, as `part.port`.
    tanks : tuple of str
        Those parts that are tanks.
    """

    parts: tuple[str, ...]
    lines: tuple[str, ...]
    ports: tuple[str, ...]
    tanks: tuple[str, ...]

    def __str__(self) -> str:
        return " -> ".join(self.parts)


@frozen
class Trail:
    """Where the spreading came from at each node reached.

    Attributes
    ----------
    back : mapping of str to (str, int)
        Node before and join taken; the start nodes have no entry.
    stage : mapping of str to int
        Tanks entered on the way, the node's own included.
    """

    network: Network = field(repr=False)
    back: Mapping[str, tuple[str, int]] = field(repr=False)
    stage: Mapping[str, int] = field(repr=False)

    def __contains__(self, node: str) -> bool:
        return node in self.stage

    def steps(self, node: str) -> tuple[list[str], list[int]]:
        """Nodes from the start to the node, and the joins between them."""
        nodes, joins = [node], []
        while nodes[-1] in self.back:
            before, join = self.back[nodes[-1]]
            nodes.append(before)
            joins.append(join)
        return nodes[::-1], joins[::-1]

    def path(self, node: str, from_start: bool = True) -> Path | None:
        """Way from the start to the node, or from the node to the start; None if not reached."""
        if node not in self.stage:
            return None
        nodes, joins = self.steps(node)
        return _path(self.network, *((nodes, joins) if from_start else (nodes[::-1], joins[::-1])))

    def barred(self, node: str, condition: Condition) -> tuple[str, ...]:
        """Valves, pumps and capped ports on the way to the node that do not let it pass."""
        nodes, joins = self.steps(node)
        passed = (
            (self.network.joins[join], before) for join, before in zip(joins, nodes, strict=False)
        )
        return tuple(
            join.start if join.barrier is Barrier.CAP else join.name
            for join, before in passed
            if not join.passes(condition, join.start == before)
        )


def _path(network: Network, nodes: list[str], joins: list[int]) -> Path:
    parts = tuple(dict.fromkeys(network.part_of(node) for node in nodes))
    lines = (network.joins[n] for n in joins)
    return Path(
        parts=parts,
        lines=tuple(join.name for join in lines if join.kind == "line"),
        ports=tuple(node for node in nodes if network.nodes[node].port),
        tanks=tuple(
            dict.fromkeys(
                network.part_of(node) for node in nodes if network.kind_of(node) is PartKind.TANK
            )
        ),
    )


def spread(
    network: Network, starts: Iterable[str], allow: Allow, through_tanks: bool = True
) -> Trail:
    """Spread from the start nodes over all joins allowed, entering few tanks first.

    Parameters
    ----------
    network : Network
        The network.
    starts : iterable of str
        Nodes to start from.
    allow : callable
        `allow(join, forward)`: whether a join may be passed in that direction.
    through_tanks : bool
        Whether to go on beyond a tank once its contents are reached.
    """
    stage = dict.fromkeys(starts, 0)
    back: dict[str, tuple[str, int]] = {}
    now = list(stage)
    later: list[str] = []
    while now:
        for node in now:  # grows while walked: breadth first within a stage
            if not through_tanks and node in back and network.is_tank(node):
                continue
            for beside in network.beside[node]:
                if beside.node in stage or not allow(beside.join, beside.forward):
                    continue
                back[beside.node] = (node, beside.join)
                entered = network.is_tank(beside.node)
                stage[beside.node] = stage[node] + entered
                (later if entered else now).append(beside.node)
        now, later = later, []
    return Trail(network, back, stage)
