"""Tanks that act as one, and which run feeds which: the plan the feed order is read from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from plumbing.frozen import frozen
from plumbing.network.build import Network
from plumbing.network.flows import Flows
from plumbing.network.graphs import components
from plumbing.network.roles import Condition, PartKind, Role
from plumbing.network.runs import Run
from plumbing.network.spread import spread
from plumbing.network.stages import Stages


@frozen
class Plan:
    """Who gives to whom, in terms of runs and of tanks joined by balance lines.

    Attributes
    ----------
    unit : mapping of str to str
        First tank of the balance-joined group each tank is in (most are alone).
    gives, takes : tuple of tuple of str
        For each run the units that give to it and the units it flows into.
    pumped_from : tuple of tuple of int
        For each run the runs at the inlets of pumps that deliver into it.
    order : tuple of int
        Runs from the farthest from the pump to the nearest.
    stage : mapping of str to int
        Stage of each unit; units that lead to no pump are absent.
    """

    unit: Mapping[str, str]
    gives: tuple[tuple[str, ...], ...]
    takes: tuple[tuple[str, ...], ...]
    pumped_from: tuple[tuple[int, ...], ...]
    order: tuple[int, ...]
    stage: Mapping[str, int]

    def carries(self, number: int) -> bool:
        """Whether any fuel comes through a run."""
        return bool(self.gives[number] or self.pumped_from[number])


def plan(network: Network, found: Stages, flows: Flows) -> Plan:
    """Plan of a settled network."""
    unit = _units(network, found, flows)

    def of(ports: tuple[str, ...]) -> tuple[str, ...]:
        return tuple(dict.fromkeys(unit[network.part_of(port)] for port in ports))

    runs = found.runs
    behind = tuple(
        tuple(dict.fromkeys(runs.of[f"{network.part_of(o)}.in"] for o in run.pump_outlets))
        for run in runs.all
    )
    stage: dict[str, int] = {}
    for tank, own in found.tank.items():
        stage[unit[tank]] = min(own, stage.get(unit[tank], own))
    return Plan(
        unit=unit,
        gives=tuple(of(ports) for ports in flows.givers),
        takes=tuple(of(ports) for ports in flows.takers),
        pumped_from=behind,
        order=tuple(sorted(found.run, key=lambda number: -found.run[number])),
        stage=stage,
    )


def _units(network: Network, found: Stages, flows: Flows) -> dict[str, str]:
    """Join tanks that a balance line joins both ways in flight."""
    tanks = network.of_kind(PartKind.TANK)
    pairs = [
        (group[0], tank)
        for number, run in enumerate(found.runs.all)
        if number not in flows.vents and _balances(flows, run)
        for group in _joined(network, run)
        for tank in group[1:]
    ]
    unit = {tank: min(group) for group in components(tanks, pairs) for tank in group}
    return {tank: unit[tank] for tank in tanks}


def _balances(flows: Flows, run: Run) -> bool:
    """Whether nothing in a run gives it a direction."""
    directed = (Role.SUCTION, Role.PRESSURE, Role.RETURN)
    return len(run.tank_ports) > 1 and not any(flows.role[j] in directed for j in run.joins)


def _joined(network: Network, run: Run) -> Iterator[tuple[str, ...]]:
    """Groups of tanks a run joins with nothing shut between them."""

    def allow(number: int, forward: bool) -> bool:
        join = network.joins[number]
        return join.passes(Condition.FLIGHT, forward) and join.passes(Condition.FLIGHT, not forward)

    seen: set[str] = set()
    for port in run.tank_ports:
        if port not in seen:
            here = spread(network, (port,), allow, through_tanks=False)
            seen.update(here.stage)
            tanks = [network.part_of(p) for p in run.tank_ports if p in here]
            yield tuple(dict.fromkeys(tanks))
