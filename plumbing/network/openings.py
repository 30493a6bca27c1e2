"""Where air can get in: outlets, ports nobody joined, fill ports without valve or cap."""

from __future__ import annotations

from collections.abc import Iterator

from plumbing.frozen import frozen
from plumbing.model.layout import PORT_NAMES
from plumbing.model.parts import Connector, FillPort
from plumbing.network.build import Network, Node
from plumbing.network.roles import PartKind

_LOOSE_KINDS = (
    PartKind.TEE,
    PartKind.FILTER,
    PartKind.PUMP,
    PartKind.VALVE,
    PartKind.CONNECTOR,
)


@frozen
class Opening:
    """A place where the fuel system meets the outside.

    Attributes
    ----------
    name : str
        The outlet, fill port or drain, or the port `part.port` left open.
    part : str
        Part it belongs to.
    node : str
        Its node.
    kind : PartKind
        Kind of that part: an outlet is meant to be open, a tank or tee port is not.
    closed_by : str
        What closes it in flight (`plug`, `cap`, `valve`, `self-closing`), or empty: it is open.
    """

    name: str
    part: str
    node: str
    kind: PartKind
    closed_by: str = ""

    @property
    def is_open(self) -> bool:
        """Open in flight."""
        return not self.closed_by


def openings(network: Network) -> tuple[Opening, ...]:
    """All openings, open and closed, in the order of the layout."""
    return tuple(found for node in network.nodes.values() for found in _opening(network, node))


def _opening(network: Network, node: Node) -> Iterator[Opening]:
    part = node.part
    if node.kind is PartKind.OUTLET:
        plug = network.layout.outlets[part].plug
        closed = "plug" if plug is not None and plug.fitted_in_flight else ""
        yield Opening(part, part, node.name, node.kind, closed)
    elif node.kind is PartKind.FILL_PORT:
        yield Opening(part, part, node.name, node.kind, _closes(network.layout.fill_ports[part]))
    elif node.kind is PartKind.DRAIN:
        yield Opening(part, part, node.name, node.kind, "valve")
    elif node.port and not network.is_joined(node.name):
        if node.kind is PartKind.TANK:
            closed = "cap" if network.layout.tanks[part].ports[node.port].capped else ""
            yield Opening(node.name, part, node.name, node.kind, closed)
        elif node.kind in _LOOSE_KINDS:
            yield Opening(node.name, part, node.name, node.kind, _self_closing(network, part))


def _closes(port: FillPort) -> str:
    """What closes a fill port; one that states neither valve nor cap is taken as closed."""
    if port.cap:
        return "cap"
    return "" if port.valve is False and port.cap is False else "valve"


def _self_closing(network: Network, part: str) -> str:
    found = network.layout.part(part)
    return "self-closing" if isinstance(found, Connector) and found.self_closing else ""


@frozen
class DeadEnd:
    """A port of a part that needs a line there and has none."""

    name: str
    part: str
    kind: PartKind


def dead_ends(network: Network) -> tuple[DeadEnd, ...]:
    """Ports without a line on every part but tanks, whose spare ports are openings or capped."""
    return tuple(
        DeadEnd(node.name, node.part, node.kind)
        for node in network.nodes.values()
        if node.port in PORT_NAMES.get(type(network.layout.part(node.part)), ())
        and not network.is_joined(node.name)
    )


def capped_but_joined(network: Network) -> tuple[str, ...]:
    """Tank ports that a line joins and that are capped in flight all the same."""
    return tuple(
        f"{tank.name}.{name}"
        for tank in network.layout.tanks.values()
        for name, port in tank.ports.items()
        if port.capped and network.is_joined(f"{tank.name}.{name}")
    )
