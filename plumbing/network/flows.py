"""What each line is there for, and which way it flows: decided from the topology alone.

Each run flows from its sources to its sinks:

- a pump delivers to engines, to a pump behind it and to tanks it fills (pressure side);
- tanks give to a pump or engine, and a tank farther from the pump gives to the nearer one
  (suction side). A tank that has a pickup gives through it; where such a tank also joins the
  run by a port without one, that port takes from the gas space first: a return or bleed;
- air comes from the outlets to the tanks (vent), fuel from a fill port to the tanks, and from
  the tanks to a drain;
- tanks equally near the pump only balance.

A line has the role of the first of these whose paths it lies on, and flows towards the sink it
is nearer to. Where both ends are equally near it may flow either way.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from plumbing.network.build import Network
from plumbing.network.graphs import between
from plumbing.network.openings import Opening
from plumbing.network.roles import Flow, Role
from plumbing.network.runs import Run, is_capped, pickup_at
from plumbing.network.stages import Stages, giving_ports, is_vent

DIRECTED = (Role.SUCTION, Role.PRESSURE)


@dataclass(frozen=True, slots=True)
class Flows:
    """Role and direction of every join of every run.

    Attributes
    ----------
    role, flow : mapping of int to Role, Flow
        By number in `Network.joins`; joins where runs are cut are absent.
    givers, takers : tuple of tuple of str
        For each run the tank ports that give fuel to it through a pickup or as the only way,
        and the tank ports it flows into.
    dry : frozenset of str
        Tank ports without a pickup that join a run the tank's pickup should feed alone.
    vents : frozenset of int
        Runs that only let air in and out.
    """

    role: Mapping[int, Role]
    flow: Mapping[int, Flow]
    givers: tuple[tuple[str, ...], ...]
    takers: tuple[tuple[str, ...], ...]
    dry: frozenset[str]
    vents: frozenset[int]

    def allows(self, join: int, forward: bool) -> bool:
        """Whether the direction of flow permits going along a join this way."""
        if self.role.get(join) not in DIRECTED:
            return True
        return self.flow[join] in (Flow.EITHER, Flow.FORWARD if forward else Flow.BACKWARD)


def flows(network: Network, found: Stages, openings: tuple[Opening, ...]) -> Flows:
    """Role and direction of every line and passage."""
    open_nodes = frozenset(opening.node for opening in openings if opening.is_open)
    dry = _dry_ports(network, found, open_nodes)
    role: dict[int, Role] = {}
    flow: dict[int, Flow] = {}
    givers, takers, vents = [], [], []
    for number, run in enumerate(found.runs.all):
        settled = _Settle(network, run, open_nodes)
        if settled.is_vent:
            vents.append(number)
        ends = (
            ((), ()) if settled.is_vent else _ends(network, run, found.run.get(number), found.tank)
        )
        settled.all_roles(ends[0], ends[1], dry)
        role.update(settled.role)
        flow.update(settled.flow)
        givers.append(tuple(port for port in ends[0] if port not in dry))
        takers.append(ends[1])
    return Flows(role, flow, tuple(givers), tuple(takers), dry, frozenset(vents))


def _ends(
    network: Network, run: Run, stage: int | None, tank_stage: Mapping[str, int]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Tank ports a run takes from and gives to."""
    if stage is None:
        return (), ()
    giving = giving_ports(network, run)
    if run.pump_outlets:
        uncapped = (p for p in run.tank_ports if not is_capped(network, p))
        return giving, tuple(p for p in uncapped if pickup_at(network, p) is None)
    lower = tuple(p for p in giving if tank_stage[network.part_of(p)] < stage)
    if run.demands:
        return giving, ()
    higher = tuple(p for p in giving if tank_stage[network.part_of(p)] >= stage)
    return (higher, lower) if higher else ((), ())


def _dry_ports(network: Network, found: Stages, open_nodes: frozenset[str]) -> frozenset[str]:
    """Giving ports without a pickup on tanks that give elsewhere through a pickup."""
    giving: dict[str, list[str]] = {}
    for number, run in enumerate(found.runs.all):
        if not is_vent(network, run, open_nodes):
            for port in _ends(network, run, found.run.get(number), found.tank)[0]:
                giving.setdefault(network.part_of(port), []).append(port)
    return frozenset(
        port
        for ports in giving.values()
        if any(pickup_at(network, port) for port in ports)
        for port in ports
        if pickup_at(network, port) is None
    )


class _Settle:
    """One run being settled."""

    def __init__(self, network: Network, run: Run, open_nodes: frozenset[str]) -> None:
        self.network, self.run = network, run
        self.open = tuple(node for node in run.nodes if node in open_nodes)
        self.is_vent = is_vent(network, run, open_nodes)
        self.pairs = tuple((network.joins[n].start, network.joins[n].end) for n in run.joins)
        self.role: dict[int, Role] = {}
        self.flow: dict[int, Flow] = {}

    def all_roles(
        self, giving: tuple[str, ...], taking: tuple[str, ...], dry: frozenset[str]
    ) -> None:
        run = self.run
        if not run.joins:
            return
        wet = tuple(port for port in giving if port not in dry)
        sinks = run.demands + taking
        self.assign(Role.PRESSURE, run.pump_outlets, sinks)
        self.assign(Role.SUCTION, wet, sinks)
        if run.demands:
            self.assign(Role.SUCTION, giving, sinks)
        vents = tuple(dict.fromkeys(run.outlets + self.open))
        self.attach(Role.VENT, vents, into=True)
        self.attach(Role.FILL, run.fill_ports, into=True)
        self.attach(Role.DRAIN, run.drains, into=False)
        self.assign(Role.RETURN, giving, sinks)
        self.assign(Role.BALANCE, run.tank_ports[:1], run.tank_ports[1:], still=True)
        for join in run.joins:
            self.role.setdefault(join, Role.LOOSE)
            self.flow.setdefault(join, Flow.STILL)

    def attach(self, role: Role, ends: tuple[str, ...], into: bool) -> None:
        """Give the role to what lies between these ends and the tanks and settled lines."""
        settled = (n for j in self.role for n in self.pair(j))
        core = tuple(dict.fromkeys((*self.run.tank_ports, *settled)).keys() - set(ends))
        self.assign(role, *((ends, core) if into else (core, ends)))

    def assign(
        self, role: Role, sources: Iterable[str], sinks: Iterable[str], still: bool = False
    ) -> None:
        """Give the role to joins on paths from sources to sinks that have none yet."""
        sinks = tuple(sinks)
        if len(self.role) == len(self.run.joins):
            return
        on_path = between(self.pairs, sources, sinks)
        if not on_path:
            return
        far = self._distance(sinks)
        for number in self.run.joins:
            start, end = self.pair(number)
            if number in self.role or start not in on_path or end not in on_path:
                continue
            self.role[number] = role
            self.flow[number] = _towards(far[start], far[end], still)

    def pair(self, number: int) -> tuple[str, str]:
        join = self.network.joins[number]
        return join.start, join.end

    def _distance(self, sinks: Iterable[str]) -> dict[str, int]:
        """Joins from each node of the run to the nearest sink."""
        own = frozenset(self.run.joins)
        far = dict.fromkeys(sinks, 0)
        waiting = deque(far)
        while waiting:
            node = waiting.popleft()
            for beside in self.network.beside[node]:
                if beside.join in own and beside.node not in far:
                    far[beside.node] = far[node] + 1
                    waiting.append(beside.node)
        return far


def _towards(start: int, end: int, still: bool) -> Flow:
    if still or start == end:
        return Flow.EITHER
    return Flow.FORWARD if start > end else Flow.BACKWARD
