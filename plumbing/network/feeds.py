"""Each engine as it is fed: by which pumps, from which header, over how many joints."""

from __future__ import annotations

from collections.abc import Mapping

from plumbing.frozen import frozen
from plumbing.network.build import Network
from plumbing.network.paths import FuelPath, Ways
from plumbing.network.roles import Condition, PartKind
from plumbing.network.spread import Trail, spread


@frozen
class Feed:
    """How one engine is fed.

    Attributes
    ----------
    engine : str
        The engine.
    path : FuelPath or None
        Way from the tank nearest to it; None if no fuel can reach it.
    pumps : tuple of str
        Pumps on that way, in order of flow; without a way, those on a line that would be one.
    last_tank : str
        Tank that way begins at: the header where there is one; empty without a way.
    header : str
        Header among the tanks of that way, or empty.
    barred_by : tuple of str
        Without a way: closed or reversed valves and reversed pumps on a line that would be one;
        empty if the engine is not joined to a tank at all.
    """

    engine: str
    path: FuelPath | None
    pumps: tuple[str, ...]
    last_tank: str
    header: str
    barred_by: tuple[str, ...]


@frozen
class Connectors:
    """What joins tubes on the suction side and may let in air: tees, filters, valves, couplings.

    Attributes
    ----------
    engine, tank : str
        From which tank to which engine.
    to : str
        First pump on the way, or the engine.
    parts : tuple of str
        Parts on the way to it that join tubes; neither tanks nor the pump.
    fittings : int
        Fittings inside the lines on the way.
    """

    engine: str
    tank: str
    to: str
    parts: tuple[str, ...]
    fittings: int

    @property
    def count(self) -> int:
        """Each counts once, and not by its tube ends."""
        return len(self.parts) + self.fittings


def feeds(network: Network, ways: Ways) -> tuple[Feed, ...]:
    """All engines."""
    anyway = spread(network, network.of_kind(PartKind.TANK), lambda *_: True)
    return tuple(_feed(network, ways, anyway, name) for name in network.of_kind(PartKind.ENGINE))


def _feed(network: Network, ways: Ways, anyway: Trail, engine: str) -> Feed:
    tanks, pumps = network.layout.tanks, network.layout.pumps
    path = ways.shortest_fuel(engine)
    if path is None:
        node = f"{engine}.feed"
        would_be = anyway.path(node)
        if would_be is None:
            return Feed(engine, None, (), "", "", ())
        passed = tuple(part for part in would_be.parts if part in pumps)
        return Feed(engine, None, passed, "", "", anyway.barred(node, Condition.FLIGHT))
    return Feed(
        engine=engine,
        path=path,
        pumps=tuple(part for part in path.path.parts if part in pumps),
        last_tank=path.tank,
        header=next((t for t in path.path.tanks if tanks[t].role == "header"), ""),
        barred_by=(),
    )


def connectors(
    network: Network, ways: Ways, stage: Mapping[str, int], engine: str
) -> Connectors | None:
    """Connectors between the farthest tank that feeds an engine and the first pump on the way."""
    trail = ways.to_engine(engine)
    tank = max((t for t in stage if t in trail), key=lambda t: trail.stage[t], default="")
    found = ways.fuel(tank, engine) if tank else None
    if found is None:
        return None
    layout, path = network.layout, found.path
    to = next((part for part in path.parts if part in layout.pumps), engine)
    before = path.parts[: path.parts.index(to)]
    ends = {join.name: (join.start, join.end) for join in network.joins if join.kind == "line"}
    lines = [
        line
        for line in path.lines
        if {network.part_of(node) for node in ends[line]} <= {*before, to}
    ]
    return Connectors(
        engine=engine,
        tank=found.tank,
        to=to,
        parts=tuple(part for part in before if part not in layout.tanks),
        fittings=sum(len(layout.lines[line].fittings) for line in lines),
    )
