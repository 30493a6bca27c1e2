"""One run being settled: which of its lines lie on which paths."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping

from plumbing.network.build import Network
from plumbing.network.graphs import between
from plumbing.network.roles import Flow, Role
from plumbing.network.runs import Run
from plumbing.network.stages import is_vent


class Settle:
    """One run, its joins getting roles and directions step by step."""

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
        """Settle everything, from the pressure side down to what leads nowhere."""
        run = self.run
        if not run.joins:
            return
        wet = tuple(port for port in giving if port not in dry)
        sinks = run.demands + taking
        self.assign(Role.PRESSURE, run.pump_outlets, sinks)
        self.assign(Role.SUCTION, wet, sinks)
        if run.demands:
            self.assign(Role.SUCTION, giving, sinks)
        self.attach_all()
        self.assign(Role.RETURN, giving, sinks)
        self.assign(Role.BALANCE, run.tank_ports[:1], run.tank_ports[1:], still=True)
        for join in run.joins:
            self.role.setdefault(join, Role.LOOSE)
            self.flow.setdefault(join, Flow.STILL)

    def across(self, role: Mapping[int, Role]) -> None:
        """Settle what the runs on both sides of a closed valve left loose."""
        self.role = {j: role[j] for j in self.run.joins if role.get(j, Role.LOOSE) != Role.LOOSE}
        known = frozenset(self.role)
        self.attach_all()
        ends = (*self.run.tank_ports, *(node for j in known for node in self.pair(j)))
        self.assign(Role.BALANCE, ends[:1], ends[1:], still=True)

    def attach_all(self) -> None:
        """Settle what leads to outlets, fill ports and drains."""
        run = self.run
        self.attach(Role.VENT, tuple(dict.fromkeys(run.outlets + self.open)), into=True)
        self.attach(Role.FILL, run.fill_ports, into=True)
        self.attach(Role.DRAIN, run.drains, into=False)

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
        """Nodes a join joins."""
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
