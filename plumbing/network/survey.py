"""Everything the graph alone tells about a layout, computed once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.network.build import Network, build
from plumbing.network.chains import (
    DryPort,
    Header,
    SecondVent,
    Teed,
    dry_ports,
    fine_pore_tanks,
    headers,
    second_vents,
    teed,
)
from plumbing.network.feeds import Connectors, Feed, connectors, feeds
from plumbing.network.filling import Fill, Fills
from plumbing.network.flows import flows
from plumbing.network.islands import Island, islands
from plumbing.network.lengths import LineLength, line_length
from plumbing.network.lines import LineUse, line_uses
from plumbing.network.openings import (
    DeadEnd,
    Opening,
    capped_but_joined,
    dead_ends,
    openings,
)
from plumbing.network.order import FeedOrder, feed_order
from plumbing.network.paths import AirPath, FuelPath, Ways, air_allowed, ways
from plumbing.network.roles import Condition, PartKind, Role
from plumbing.network.runs import Run
from plumbing.network.shared import Shared, shared_parts
from plumbing.network.spread import spread
from plumbing.network.stages import stages
from plumbing.network.units import plan
from plumbing.network.valves import OneWay, closed_in_flight, one_way_parts
from plumbing.network.vents import Vented, vented


@frozen
class Survey:
    """What the graph tells.

    Attributes
    ----------
    network : Network
        The graph itself.
    lines : mapping of str to LineUse
        Role, direction, length and bore of every line.
    lengths : mapping of str to LineLength
        Routed, stated and cutting length of every line.
    runs : tuple of Run
        What hangs together between tanks and pumps.
    stage : mapping of str to int
        Tanks between each tank and the pump; tanks that lead to no pump are absent.
    vented : mapping of str to Vented
        Tanks that breathe without passing another tank.
    order : FeedOrder
        Order in which the tanks empty.
    feeds : mapping of str to Feed
        How each engine is fed.
    fills : mapping of str to Fill
        Filling through each fill port, worked out when asked for.
    openings : tuple of Opening
        Where air can get in, open and closed.
    islands : tuple of Island
        Groups of parts that lines join.
    dead_ends : tuple of DeadEnd
        Ports without the line they need.
    capped_but_joined : tuple of str
        Tank ports with both a cap and a line.
    second_vents : tuple of SecondVent
        Open vents in front of others in one chain.
    teed : tuple of Teed
        Tanks that give side by side.
    dry_ports : tuple of DryPort
        Ports that give gas while a pickup should give fuel.
    headers : tuple of Header
        Header tanks as they are joined.
    shared : tuple of Shared
        Parts whose failure stops more than one engine.
    one_way : tuple of OneWay
        Check valves and filters, and whether they stand against the flow.
    closed_in_flight : tuple of str
        Valves stated closed in flight.
    bags : tuple of str
        Bags without a vent, plugged or not, that no air can reach: they fold as they empty.
    airless : tuple of str
        Tanks that nothing can reach in flight to take the place of fuel, neither air nor fuel from
        a bag that folds.
    unfed : tuple of str
        Engines no fuel can reach.
    cut_off : tuple of str
        Tanks from which no fuel can reach an engine.
    """

    network: Network = field(repr=False)
    lines: Mapping[str, LineUse]
    lengths: Mapping[str, LineLength]
    runs: tuple[Run, ...]
    stage: Mapping[str, int]
    vented: Mapping[str, Vented]
    order: FeedOrder
    feeds: Mapping[str, Feed]
    fills: Mapping[str, Fill]
    openings: tuple[Opening, ...]
    islands: tuple[Island, ...]
    dead_ends: tuple[DeadEnd, ...]
    capped_but_joined: tuple[str, ...]
    second_vents: tuple[SecondVent, ...]
    teed: tuple[Teed, ...]
    dry_ports: tuple[DryPort, ...]
    headers: tuple[Header, ...]
    shared: tuple[Shared, ...]
    one_way: tuple[OneWay, ...]
    closed_in_flight: tuple[str, ...]
    bags: tuple[str, ...]
    airless: tuple[str, ...]
    unfed: tuple[str, ...]
    cut_off: tuple[str, ...]
    _ways: Ways = field(repr=False, compare=False)

    @property
    def fill(self) -> Fill | None:
        """Filling as stated, or through the only fill port; None if that is not decided."""
        used = self.network.layout.filling.port
        if used is None and len(self.fills) == 1:
            used = next(iter(self.fills))
        return self.fills.get(used.partition(".")[0]) if used else None

    @property
    def unfilled(self) -> tuple[str, ...]:
        """Tanks for the engines that fill through none of the fill ports."""
        filled = {tank for fill in self.fills.values() for tank in fill.filled}
        tanks = self.network.layout.tanks.values()
        return tuple(one.name for one in tanks if one.for_engines and one.name not in filled)

    def of_role(self, role: Role) -> tuple[LineUse, ...]:
        """Lines of one role."""
        return tuple(use for use in self.lines.values() if use.role is role)

    def fuel_path(self, tank: str, engine: str) -> FuelPath | None:
        """Way of fuel from a tank to an engine; None if there is none."""
        return self._ways.fuel(tank, engine)

    def feed_ports(self, tank: str) -> tuple[str, ...]:
        """Ports by which a tank feeds the engines."""
        paths = (self.fuel_path(tank, engine) for engine in self.feeds)
        return tuple(dict.fromkeys(path.port.partition(".")[2] for path in paths if path))

    def tanks_feeding(self, engine: str) -> tuple[str, ...]:
        """Tanks that feed an engine, first to empty first."""
        trail = self._ways.to_engine(engine)
        return tuple(tank for tank in self.order.tanks if tank in trail)

    def air_path(self, tank: str) -> AirPath | None:
        """Way of air to a tank, closed ones flagged; None if there is none at all."""
        return self._ways.air(tank)

    def connectors(self, engine: str) -> Connectors | None:
        """Connectors between the pump and the farthest tank; None for an unfed engine."""
        return connectors(self.network, self._ways, self.stage, engine)


def survey(layout: Layout) -> Survey:
    """Survey of a layout: every question the graph alone answers."""
    network = build(layout)
    opened = openings(network)
    staged = stages(network, opened)
    flowing = flows(network, staged, opened)
    planned = plan(network, staged, flowing)
    breathing = vented(network, staged, flowing, opened)
    found = ways(network, flowing, opened)
    tanks = network.of_kind(PartKind.TANK)
    fed = {feed.engine: feed for feed in feeds(network, found)}
    folding = tuple(one for one in tanks if layout.tanks[one].is_bag and not _vented(found, one))
    giving = breathing | {one: Vented(one, (), -1 - n) for n, one in enumerate(folding)}
    behind = spread(network, folding, air_allowed(network, flowing, Condition.FLIGHT))
    return Survey(
        network=network,
        lines=line_uses(network, staged.runs, flowing),
        lengths={name: line_length(layout, line) for name, line in layout.lines.items()},
        runs=staged.runs.all,
        stage=staged.tank,
        vented=breathing,
        order=feed_order(network, planned, giving, fine_pore_tanks(network, flowing)),
        feeds=fed,
        fills=Fills(network, opened, folding),
        openings=opened,
        islands=islands(network),
        dead_ends=dead_ends(network),
        capped_but_joined=capped_but_joined(network),
        second_vents=second_vents(planned, breathing),
        teed=teed(network, staged, flowing, planned, breathing),
        dry_ports=dry_ports(network, staged, flowing),
        headers=headers(network, staged, flowing, breathing),
        shared=shared_parts(network, flowing, planned),
        one_way=one_way_parts(network, flowing),
        closed_in_flight=closed_in_flight(network),
        bags=folding,
        airless=tuple(one for one in tanks if one not in found.open_air and one not in behind),
        unfed=tuple(name for name, feed in fed.items() if feed.path is None),
        cut_off=tuple(t for t in tanks if layout.tanks[t].for_engines and t not in found.used),
        _ways=found,
    )


def _vented(found: Ways, tank: str) -> bool:
    """Whether air reaches a tank in flight, or would but for a plug in an outlet."""
    way, outlets = found.air(tank), found.network.layout.outlets
    return tank in found.open_air or (way is not None and way.opening in outlets)
