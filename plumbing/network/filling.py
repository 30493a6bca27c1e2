"""Filling: which tanks fill in which order, where it overflows, what is passed the wrong way.

Fuel spreads from the fill port through everything open while filling. A tank fills only if
its air can leave by another way than the fuel comes in: it must lie on a way from the fill
port to an open outlet, or to a bag, which unfolds. Plugs fitted in flight and capped ports are
taken as closed too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import field

from plumbing.frozen import frozen
from plumbing.network.build import Network
from plumbing.network.graphs import between
from plumbing.network.openings import Opening
from plumbing.network.roles import Barrier, Condition, PartKind
from plumbing.network.runs import pickup_at
from plumbing.network.spread import Allow, Path, Trail, spread


@frozen
class Overflow:
    """Where fuel comes out when a tank is full."""

    tank: str
    opening: str


@frozen
class ToEngine:
    """What stands between a fill port and an engine while filling.

    Attributes
    ----------
    engine : str
        The engine.
    path : Path
        Shortest way from the fill port to the engine, valves or not.
    valves : tuple of str
        Shut-off and electric valves on that way.
    floods : bool
        Fuel can get to the engine while filling: no closed valve on some way.
    """

    engine: str
    path: Path
    valves: tuple[str, ...]
    floods: bool


@frozen
class Fill:
    """Filling through one fill port.

    Attributes
    ----------
    port : str
        The fill port.
    order : tuple of tuple of str
        Tanks that fill, nearest first; those of a group at the same time.
    dead_ended : tuple of str
        Tanks fuel reaches whose air cannot leave: they fill only in part.
    overflows : tuple of Overflow
        Where it comes out.
    reversed_filters, reversed_pickups : tuple of str
        Filters passed from out to in; fine-pore pickups passed outwards, as `part.port`.
    closed_valves : tuple of str
        Valves closed while filling on the way to tanks that are not reached.
    engines : tuple of ToEngine
        Every engine that is joined to this fill port.
    trail : Trail
        Read single ways from it with `path_to`.
    """

    port: str
    order: tuple[tuple[str, ...], ...]
    dead_ended: tuple[str, ...]
    overflows: tuple[Overflow, ...]
    reversed_filters: tuple[str, ...]
    reversed_pickups: tuple[str, ...]
    closed_valves: tuple[str, ...]
    engines: tuple[ToEngine, ...]
    trail: Trail = field(repr=False, compare=False)

    @property
    def filled(self) -> tuple[str, ...]:
        """Tanks that fill, nearest first."""
        return tuple(tank for group in self.order for tank in group)

    @property
    def last(self) -> tuple[str, ...]:
        """Tanks that fill last."""
        return self.order[-1] if self.order else ()

    @property
    def last_is_overflow(self) -> bool:
        """Fuel comes out only where the last tank is full."""
        return bool(self.overflows) and {o.tank for o in self.overflows} <= set(self.last)

    def path_to(self, tank: str) -> Path | None:
        """Way of the fuel to a tank."""
        return self.trail.path(tank)


class Fills(Mapping[str, Fill]):
    """Filling by fill port, each worked out when first asked for.

    A survey then costs the same however many fill ports there are.
    """

    def __init__(
        self, network: Network, openings: tuple[Opening, ...], bags: tuple[str, ...]
    ) -> None:
        self._network, self._openings, self._bags = network, openings, bags
        self._known: dict[str, Fill] = {}

    def __getitem__(self, port: str) -> Fill:
        if port not in self._known:
            if port not in self._network.layout.fill_ports:
                raise KeyError(port)
            self._known[port] = _Filling(self._network, port, self._openings, self._bags).result()
        return self._known[port]

    def __iter__(self) -> Iterator[str]:
        return iter(self._network.layout.fill_ports)

    def __len__(self) -> int:
        return len(self._network.layout.fill_ports)


class _Filling:
    """One fill port under examination."""

    def __init__(
        self, network: Network, port: str, openings: tuple[Opening, ...], bags: tuple[str, ...]
    ) -> None:
        self.network, self.port, self.bags = network, port, bags
        self.start = f"{port}.tube"
        self.open = {o.node: o for o in openings if o.is_open and o.part != port}
        self.trail = spread(network, (self.start,), self._passes)

    def result(self) -> Fill:
        tanks = self.network.of_kind(PartKind.TANK)
        reached = tuple(tank for tank in tanks if tank in self.trail)
        bags = (tank for tank in reached if tank in self.bags)
        flowing = self._between(self.trail, self._passes, (*self.open, *bags))
        wetted = self._between(self.trail, self._passes, reached)
        by_stage: dict[int, list[str]] = {}
        for tank in reached:
            if tank in flowing:
                by_stage.setdefault(self.trail.stage[tank], []).append(tank)
        return Fill(
            port=self.port,
            order=tuple(tuple(by_stage[stage]) for stage in sorted(by_stage)),
            dead_ended=tuple(tank for tank in reached if tank not in flowing),
            overflows=self._overflows(flowing),
            reversed_filters=self._reversed_filters(wetted),
            reversed_pickups=self._reversed_pickups(wetted),
            closed_valves=self._closed_valves(tanks),
            engines=tuple(self._engines()),
            trail=self.trail,
        )

    def _passes(self, number: int, forward: bool) -> bool:
        return self.network.joins[number].passes(Condition.FILLING, forward)

    def _between(self, trail: Trail, allow: Allow, ends: Iterable[str]) -> frozenset[str]:
        """Nodes on a way from the fill port to one of the ends."""
        pairs = (
            (join.start, join.end)
            for number, join in enumerate(self.network.joins)
            if join.start in trail and (allow(number, True) or allow(number, False))
        )
        return between(pairs, (self.start,), (node for node in ends if node in trail))

    def _overflows(self, flowing: frozenset[str]) -> tuple[Overflow, ...]:
        """Tanks that an open outlet is joined to without a tank between."""
        inward = spread(
            self.network, self.open, lambda n, f: self._passes(n, not f), through_tanks=False
        )
        return tuple(
            Overflow(tank, self.open[inward.steps(tank)[0][0]].name)
            for tank in self.network.of_kind(PartKind.TANK)
            if tank in inward and tank in flowing
        )

    def _reversed_filters(self, wetted: frozenset[str]) -> tuple[str, ...]:
        """Filters passed from out to in."""
        return tuple(
            part
            for part in self.network.of_kind(PartKind.FILTER)
            if f"{part}.in" in wetted
            and f"{part}.out" in wetted
            and self.trail.back.get(f"{part}.in", ("",))[0] == f"{part}.out"
        )

    def _reversed_pickups(self, wetted: frozenset[str]) -> tuple[str, ...]:
        """Fine-pore pickups that fuel comes to from outside their tank."""
        return tuple(
            node.name
            for node in self.network.nodes.values()
            if node.name in wetted
            and (pickup := pickup_at(self.network, node.name)) is not None
            and pickup.kind == "fine-pore"
            and self.trail.back[node.name][0] != node.part
        )

    def _closed_valves(self, tanks: tuple[str, ...]) -> tuple[str, ...]:
        def allow(number: int, forward: bool) -> bool:
            closed = self.network.joins[number].barrier is Barrier.VALVE
            return closed or self._passes(number, forward)

        missed = tuple(tank for tank in tanks if tank not in self.trail)
        if not missed:
            return ()
        opened = spread(self.network, (self.start,), allow)
        on_way = self._between(opened, allow, missed)
        return tuple(
            join.name
            for join in self.network.joins
            if join.barrier is Barrier.VALVE
            and not join.filling
            and join.start in on_way
            and join.end in on_way
        )

    def _engines(self) -> Iterator[ToEngine]:
        joins, valves = self.network.joins, self.network.layout.valves
        flooding = spread(
            self.network, (self.start,), lambda n, f: joins[n].passes(Condition.FLOODING, f)
        )
        joined = spread(
            self.network, (self.start,), lambda n, f: joins[n].passes(Condition.OPEN, f)
        )
        for engine in self.network.of_kind(PartKind.ENGINE):
            path = joined.path(f"{engine}.feed")
            if path is not None:
                shut = (p for p in path.parts if p in valves and valves[p].kind != "check")
                floods = f"{engine}.feed" in flooding
                yield ToEngine(engine, path, tuple(shut), floods)


def air_exits(network: Network, openings: Sequence[Opening], fill: Fill, tank: str) -> list[str]:
    """Ports by which air leaves a tank for an open outlet while fuel comes in by another."""
    path = fill.path_to(tank)
    entry = path.ports[-1] if path is not None else ""
    outside = {opening.node for opening in openings if opening.is_open}

    def allow(number: int, forward: bool) -> bool:
        join = network.joins[number]
        return join.passes(Condition.FILLING, forward) and tank not in (join.start, join.end)

    return [
        port.partition(".")[2]
        for port in network.ports_of(tank)
        if port != entry and outside & spread(network, (port,), allow).stage.keys()
    ]
