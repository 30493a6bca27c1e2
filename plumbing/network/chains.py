"""Faults of how tanks are joined: second vents, tees, dry ports, headers, shared parts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from plumbing.frozen import frozen
from plumbing.network.build import Network
from plumbing.network.flows import Flows
from plumbing.network.roles import PartKind, Role
from plumbing.network.runs import Run, pickup_at
from plumbing.network.stages import Stages
from plumbing.network.units import Plan
from plumbing.network.vents import Vented


@frozen
class SecondVent:
    """A tank with an open vent that stands in front of others with one.

    Attributes
    ----------
    tank : str
        The nearer tank: air enters here.
    openings : tuple of str
        By which openings.
    behind : tuple of str
        Vented tanks behind it whose fuel then stays.
    """

    tank: str
    openings: tuple[str, ...]
    behind: tuple[str, ...]


def second_vents(plan: Plan, vented: Mapping[str, Vented]) -> tuple[SecondVent, ...]:
    """Tanks with an open vent before another vented tank, seen from the pump."""
    holder: dict[str, str] = {}  # unit -> nearest vented tank in front of it
    breathes = {plan.unit[tank]: tank for tank in reversed(list(vented))}
    found: dict[str, list[str]] = {}
    for number in reversed(plan.order):
        if plan.pumped_from[number]:
            continue
        for unit in plan.takes[number]:
            front = breathes.get(unit) or holder.get(unit)
            if front is not None:
                for giver in plan.gives[number]:
                    if giver not in plan.takes[number]:
                        holder.setdefault(giver, front)
    for unit, tank in breathes.items():
        if unit in holder:
            found.setdefault(holder[unit], []).append(tank)
    return tuple(
        SecondVent(tank, vented[tank].openings, tuple(behind)) for tank, behind in found.items()
    )


@frozen
class Teed:
    """Tanks that give to the same run side by side.

    Attributes
    ----------
    tanks, ports : tuple of str
        The tanks and the ports they give by.
    tees : tuple of str
        Tees on the suction side of the run.
    into : tuple of str
        Pumps, engines or tanks the run flows to.
    fine_pore : bool
        Every one of the ports has a fine-pore pickup.
    balanced : bool
        A balance line joins all of them.
    vents_joined : bool
        They breathe by one vent, or not more than one of them has a vent of its own.
    """

    tanks: tuple[str, ...]
    ports: tuple[str, ...]
    tees: tuple[str, ...]
    into: tuple[str, ...]
    fine_pore: bool
    balanced: bool
    vents_joined: bool


def teed(
    network: Network, found: Stages, flows: Flows, plan: Plan, vented: Mapping[str, Vented]
) -> tuple[Teed, ...]:
    """Teed tanks, run by run."""
    return tuple(
        _teed(network, run, flows, number, plan, vented)
        for number, run in enumerate(found.runs.all)
        if len({network.part_of(port) for port in flows.givers[number]}) > 1
    )


def _teed(
    network: Network,
    run: Run,
    flows: Flows,
    number: int,
    plan: Plan,
    vented: Mapping[str, Vented],
) -> Teed:
    ports = flows.givers[number]
    tanks = tuple(dict.fromkeys(network.part_of(port) for port in ports))
    sucked = {
        network.part_of(network.joins[j].end)
        for j in run.joins
        if flows.role[j] is Role.SUCTION and network.joins[j].kind == "inside"
    }
    tees = network.layout.tees
    into = (*run.demands, *flows.takers[number])
    pickups = tuple(pickup_at(network, port) for port in ports)
    return Teed(
        tanks=tanks,
        ports=ports,
        tees=tuple(part for part in run.parts if part in tees and part in sucked),
        into=tuple(dict.fromkeys(network.part_of(port) for port in into)),
        fine_pore=all(p is not None and p.kind == "fine-pore" for p in pickups),
        balanced=len({plan.unit[tank] for tank in tanks}) == 1,
        vents_joined=len({vented[tank].run for tank in tanks if tank in vented}) <= 1,
    )


def fine_pore_tanks(network: Network, flows: Flows) -> frozenset[str]:
    """Tanks that give through fine-pore pickups only."""
    ports = tuple(port for run in flows.givers for port in run)
    pickups = {port: pickup_at(network, port) for port in ports}
    fine = {p for p, pickup in pickups.items() if pickup and pickup.kind == "fine-pore"}
    other = {network.part_of(port) for port in ports if port not in fine}
    return frozenset(network.part_of(port) for port in fine) - other


@frozen
class DryPort:
    """A port without a pickup by which a run takes gas from a tank that has a pickup.

    Attributes
    ----------
    port, tank : str
        The port `part.port` and its tank.
    into : tuple of str
        Pumps, engines or tanks the run flows to.
    """

    port: str
    tank: str
    into: tuple[str, ...]


def dry_ports(network: Network, found: Stages, flows: Flows) -> tuple[DryPort, ...]:
    """Ports that give gas instead of fuel: a bleed, a return, or a line on the wrong port."""
    return tuple(
        DryPort(
            port,
            network.part_of(port),
            tuple(
                dict.fromkeys(
                    network.part_of(end)
                    for end in (*found.runs.all[number].demands, *flows.takers[number])
                )
            ),
        )
        for port in network.nodes
        if port in flows.dry and (number := found.runs.of[port]) is not None
    )


@frozen
class Behind:
    """A part with a volume between a header and the pump."""

    part: str
    kind: PartKind
    volume: float | None


@frozen
class Header:
    """A header tank (air trap) as it is joined.

    Attributes
    ----------
    tank : str
        The header.
    openings : tuple of str
        Open vents of its own; there should be none.
    returns_to : tuple of str
        Tanks its gas space is joined to by a bleed or return.
    after : tuple of Behind
        Filters and tanks between it and the pump.
    """

    tank: str
    openings: tuple[str, ...]
    returns_to: tuple[str, ...]
    after: tuple[Behind, ...]


def headers(
    network: Network, found: Stages, flows: Flows, vented: Mapping[str, Vented]
) -> tuple[Header, ...]:
    """All header tanks."""
    result = []
    for tank in network.layout.headers():
        own = vented.get(tank.name)
        numbers = tuple(dict.fromkeys(found.runs.of[p] for p in network.ports_of(tank.name)))
        giving = tuple(
            n for n in numbers if any(network.part_of(p) == tank.name for p in flows.givers[n])
        )
        result.append(
            Header(
                tank=tank.name,
                openings=own.openings if own else (),
                returns_to=tuple(
                    dict.fromkeys(_returns(network, found, flows, tank.name, numbers))
                ),
                after=tuple(_after(network, found, flows, giving)),
            )
        )
    return tuple(result)


def _returns(
    network: Network, found: Stages, flows: Flows, header: str, numbers: tuple[int, ...]
) -> Iterator[str]:
    for number in numbers:
        run = found.runs.all[number]
        if any(flows.role[j] is Role.RETURN for j in run.joins):
            yield from (t for p in run.tank_ports if (t := network.part_of(p)) != header)


def _after(
    network: Network, found: Stages, flows: Flows, giving: tuple[int, ...]
) -> Iterator[Behind]:
    for number in giving:
        for join in found.runs.all[number].joins:
            name = network.joins[join].name
            filter_ = network.layout.filters.get(name)
            inside = network.joins[join].kind == "inside" and flows.role[join] is Role.SUCTION
            if filter_ and inside:
                yield Behind(name, PartKind.FILTER, filter_.volume)
        for port in flows.takers[number]:
            yield Behind(network.part_of(port), PartKind.TANK, None)
