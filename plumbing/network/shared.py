"""Parts whose failure stops more than one engine."""

from __future__ import annotations

from plumbing.frozen import frozen
from plumbing.network.build import Network
from plumbing.network.flows import Flows
from plumbing.network.graphs import dominators
from plumbing.network.paths import fuel_allowed
from plumbing.network.roles import PartKind
from plumbing.network.units import Plan

_ROOT = "\0fuel"


@frozen
class Shared:
    """A part that all fuel of several engines passes.

    Attributes
    ----------
    part : str
        The part.
    kind : PartKind
        Its kind; a shared main tank is usual, a shared header or pump is a single failure.
    engines : tuple of str
        Engines that stop with it.
    """

    part: str
    kind: PartKind
    engines: tuple[str, ...]


def shared_parts(network: Network, flows: Flows, plan: Plan) -> tuple[Shared, ...]:
    """Parts on every way of the fuel to two or more engines (dominators of the flow graph).

    Fuel begins in the tanks that no other tank refills; what fuel is filled through plays no
    part.
    """
    engines = network.of_kind(PartKind.ENGINE)
    if len(engines) < 2:
        return ()
    last = dominators(_arcs(network, flows, plan), _ROOT)
    stopped: dict[str, dict[str, None]] = {}
    for engine in engines:
        node = last.get(f"{engine}.feed", _ROOT)
        while node != _ROOT:
            part = network.part_of(node)
            if part != engine:
                stopped.setdefault(part, {})[engine] = None
            node = last.get(node, _ROOT)
    kinds = {node.part: node.kind for node in network.nodes.values()}
    return tuple(
        Shared(part, kinds[part], tuple(stopped[part]))
        for part in kinds
        if len(stopped.get(part, ())) > 1
    )


def _arcs(network: Network, flows: Flows, plan: Plan) -> list[tuple[str, str]]:
    allow = fuel_allowed(network, flows)
    refilled = {
        unit for number, takes in enumerate(plan.takes) for unit in takes if plan.carries(number)
    }
    arcs = [(_ROOT, tank) for tank, unit in plan.unit.items() if unit not in refilled]
    for number, join in enumerate(network.joins):
        if allow(number, True):
            arcs.append((join.start, join.end))
        if allow(number, False):
            arcs.append((join.end, join.start))
    return arcs
