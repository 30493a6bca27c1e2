"""How many tanks stand between a tank and the engine: the stage of each tank and run.

Counted backwards from the engines (from the pumps where no engine follows), through pumps
from outlet to inlet. A run that is open to the outside and takes from no pickup is a vent:
it is not followed, for no fuel comes through it.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping

from plumbing.frozen import frozen
from plumbing.network.build import Network
from plumbing.network.openings import Opening
from plumbing.network.roles import PartKind
from plumbing.network.runs import Run, Runs, cut, is_capped, pickup_at


@frozen
class Stages:
    """Stage of tanks (0 is next to the pump) and of runs; what leads to no pump has none.

    A run of stage 2 flows into tanks of stage 1 or less, and tanks of stage 2 flow into it.
    """

    runs: Runs
    tank: Mapping[str, int]
    run: Mapping[int, int]
    fed: frozenset[str]


def stages(network: Network, openings: tuple[Opening, ...]) -> Stages:
    """Stages with closed valves closed, or with all open if an engine would get nothing."""
    closed = _Count(network, cut(network, at_closed_valves=True), openings).result()
    if closed.fed.issuperset(network.of_kind(PartKind.ENGINE)):
        return closed
    opened = _Count(network, cut(network, at_closed_valves=False), openings).result()
    return opened if len(opened.fed) > len(closed.fed) else closed


class _Count:
    """The count under way."""

    def __init__(self, network: Network, runs: Runs, openings: tuple[Opening, ...]) -> None:
        self.network = network
        self.runs = runs
        self.open = frozenset(opening.node for opening in openings if opening.is_open)
        self.tank: dict[str, int] = {}
        self.run: dict[int, int] = {}
        self.feeds: dict[int, list[int]] = {}
        self.waiting: deque[tuple[int, int]] = deque()

    def result(self) -> Stages:
        self._from(PartKind.ENGINE, "feed")
        self._from(PartKind.PUMP, "in")
        return Stages(self.runs, self.tank, self.run, self._fed())

    def _from(self, kind: PartKind, port: str) -> None:
        for part in self.network.of_kind(kind):
            self.waiting.append((0, self.runs.of[f"{part}.{port}"]))
        while self.waiting:
            stage, number = self.waiting.popleft()
            if number not in self.run:
                self.run[number] = stage
                self._enter(stage, self.runs.all[number])

    def _enter(self, stage: int, run: Run) -> None:
        for outlet in run.pump_outlets:
            inlet = f"{self.network.part_of(outlet)}.in"
            self.waiting.appendleft((stage, self.runs.of[inlet]))
        for port in giving_ports(self.network, run):
            tank = self.network.part_of(port)
            if tank in self.tank:
                continue
            self.tank[tank] = stage
            for other in self.network.ports_of(tank):
                behind = self.runs.of[other]
                if not is_capped(self.network, other) and not is_vent(
                    self.network, self.runs.all[behind], self.open
                ):
                    self.waiting.append((stage + 1, behind))

    def _fed(self) -> frozenset[str]:
        """Engines with at least one tank behind them."""
        engines = self.network.of_kind(PartKind.ENGINE)
        return frozenset(e for e in engines if self._is_fed(self.runs.of[f"{e}.feed"]))

    def _is_fed(self, first: int) -> bool:
        """Whether a run, or one behind its pumps, has a tank that gives."""
        behind = [first]
        for number in behind:  # grows while walked
            run = self.runs.all[number]
            if giving_ports(self.network, run):
                return True
            inlets = (f"{self.network.part_of(outlet)}.in" for outlet in run.pump_outlets)
            behind += {self.runs.of[inlet] for inlet in inlets}.difference(behind)
        return False


def giving_ports(network: Network, run: Run) -> tuple[str, ...]:
    """Tank ports that may give fuel to a run.

    Where a pump delivers into the run, only ports with a pickup (a bypass round a boost pump)
    give; the others receive.
    """
    return tuple(
        port
        for port in run.tank_ports
        if not is_capped(network, port)
        and (not run.pump_outlets or pickup_at(network, port) is not None)
    )


def is_vent(network: Network, run: Run, open_nodes: frozenset[str]) -> bool:
    """Whether a run only lets air in and out."""
    if run.demands or run.pump_outlets or any(pickup_at(network, p) for p in run.tank_ports):
        return False
    return any(node in open_nodes for node in run.nodes)
