"""What hangs together, and what does not."""

from __future__ import annotations

from plumbing.frozen import frozen
from plumbing.network.build import Network
from plumbing.network.graphs import components
from plumbing.network.roles import PartKind


@frozen
class Island:
    """Parts that lines join to each other.

    Attributes
    ----------
    parts, lines : tuple of str
        Everything in it.
    tanks, pumps, engines : tuple of str
        Those of the parts.
    """

    parts: tuple[str, ...]
    lines: tuple[str, ...]
    tanks: tuple[str, ...]
    pumps: tuple[str, ...]
    engines: tuple[str, ...]


def islands(network: Network) -> tuple[Island, ...]:
    """Groups of parts that lines join, in the order of the layout."""
    kinds = {node.part: node.kind for node in network.nodes.values()}
    lines = tuple(join for join in network.joins if join.kind == "line")
    ends = tuple((network.part_of(join.start), network.part_of(join.end)) for join in lines)
    groups = components(tuple(kinds), ends)
    number = {part: n for n, group in enumerate(groups) for part in group}
    inside: list[list[str]] = [[] for _ in groups]
    for join, (start, _) in zip(lines, ends, strict=True):
        inside[number[start]].append(join.name)

    def of(group: tuple[str, ...], kind: PartKind) -> tuple[str, ...]:
        return tuple(part for part in group if kinds[part] is kind)

    return tuple(
        Island(
            parts=group,
            lines=tuple(inside[n]),
            tanks=of(group, PartKind.TANK),
            pumps=of(group, PartKind.PUMP),
            engines=of(group, PartKind.ENGINE),
        )
        for n, group in enumerate(groups)
    )
