"""The only door to networkx; it takes 0.17 s to import, so it is imported when first used."""

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import networkx as nx

Pair = tuple[str, str]

_SOURCE = ("", "source")
_SINK = ("", "sink")


def multigraph(
    nodes: Iterable[tuple[str, Mapping[str, Any]]],
    edges: Iterable[tuple[str, str, Mapping[str, Any]]],
) -> "nx.MultiGraph":
    """Frozen multigraph of nodes and edges with their attributes."""
    import networkx as nx  # 0.17 s, only once a layout is looked at

    graph = nx.MultiGraph()
    graph.add_nodes_from((name, dict(attributes)) for name, attributes in nodes)
    graph.add_edges_from((start, end, dict(attributes)) for start, end, attributes in edges)
    return nx.freeze(graph)


def components(nodes: Sequence[str], pairs: Iterable[Pair]) -> tuple[tuple[str, ...], ...]:
    """Connected groups of nodes, each and all in the order of `nodes`."""
    import networkx as nx

    graph = nx.Graph()
    graph.add_nodes_from(nodes)
    graph.add_edges_from(pairs)
    position = {node: number for number, node in enumerate(nodes)}
    groups = (tuple(sorted(group, key=position.__getitem__)) for group in _connected(nx, graph))
    return tuple(sorted(groups, key=lambda group: position[group[0]]))


def _connected(nx: Any, graph: Any) -> Iterable[set[str]]:
    found: Iterable[set[str]] = nx.connected_components(graph)
    return found


def between(pairs: Iterable[Pair], sources: Iterable[str], sinks: Iterable[str]) -> frozenset[str]:
    """Nodes that lie on a path without repetition from a source to a sink.

    Such nodes share a biconnected block with an edge laid from all sources to all sinks
    (Whitney 1932), so the answer costs one pass whatever the number of paths.
    """
    import networkx as nx

    sources, sinks = tuple(sources), tuple(sinks)
    if not sources or not sinks:
        return frozenset()
    graph = nx.Graph()
    graph.add_edges_from(pair for pair in pairs if pair[0] != pair[1])
    graph.add_edges_from((_SOURCE, source) for source in sources)
    graph.add_edges_from((_SINK, sink) for sink in sinks)
    graph.add_edge(_SOURCE, _SINK)
    for block in nx.biconnected_components(graph):
        if _SOURCE in block and _SINK in block:
            return frozenset(block - {_SOURCE, _SINK})
    return frozenset()


def dominators(arcs: Iterable[Pair], root: str) -> dict[str, str]:
    """Last node every way from the root to a node must pass, for each node reached."""
    import networkx as nx

    graph = nx.DiGraph()
    graph.add_node(root)
    graph.add_edges_from(arcs)
    found: dict[str, str | None] = nx.immediate_dominators(graph, root)
    return {node: last for node, last in found.items() if last is not None and node != root}
