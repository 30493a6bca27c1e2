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

from collections.abc import Mapping

from plumbing.frozen import frozen
from plumbing.network.build import Network
from plumbing.network.openings import Opening
from plumbing.network.roles import Flow, Role
from plumbing.network.runs import Run, cut, is_capped, pickup_at
from plumbing.network.settle import Settle
from plumbing.network.stages import Stages, giving_ports, is_vent

DIRECTED = (Role.SUCTION, Role.PRESSURE)


@frozen
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
        settled = Settle(network, run, open_nodes)
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
    _across_closed_valves(network, open_nodes, role, flow)
    return Flows(role, flow, tuple(givers), tuple(takers), dry, frozenset(vents))


def _across_closed_valves(
    network: Network,
    open_nodes: frozenset[str],
    role: dict[int, Role],
    flow: dict[int, Flow],
) -> None:
    """Let a vent, fill or drain line keep its role although a valve in it is closed in flight."""
    if all(number in role for number, join in enumerate(network.joins) if not join.flight):
        return
    for run in cut(network, at_closed_valves=False).all:
        if any(not network.joins[number].flight for number in run.joins):
            settled = Settle(network, run, open_nodes)
            settled.across(role)
            role.update(settled.role)
            flow.update(settled.flow)


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
