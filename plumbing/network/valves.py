"""Check valves and filters against the flow, and valves closed in flight."""

from __future__ import annotations

from plumbing.frozen import frozen
from plumbing.network.build import Network
from plumbing.network.flows import Flows
from plumbing.network.roles import Barrier, Flow, PartKind, Role


@frozen
class OneWay:
    """A part with a direction: a check valve, filter or pump.

    Attributes
    ----------
    part : str
        The part.
    kind : PartKind
        Check valve (`VALVE`), filter or pump.
    role : Role
        What the lines at it are there for.
    against : bool
        It stands against the flow in flight: of the fuel, in a vent of the air coming in, in a
        fill line of the fuel put in.
    """

    part: str
    kind: PartKind
    role: Role
    against: bool


def one_way_parts(network: Network, flows: Flows) -> tuple[OneWay, ...]:
    """Every check valve and filter, with the direction of flow it stands in."""
    return tuple(
        OneWay(
            join.name,
            network.kind_of(join.start),
            flows.role.get(number, Role.LOOSE),
            flows.flow.get(number, Flow.STILL) is Flow.BACKWARD,
        )
        for number, join in enumerate(network.joins)
        if join.kind == "inside"
        and (join.barrier is Barrier.CHECK or network.kind_of(join.start) is PartKind.FILTER)
    )


def closed_in_flight(network: Network) -> tuple[str, ...]:
    """Shut-off and electric valves stated closed in flight."""
    return tuple(
        join.name for join in network.joins if join.barrier is Barrier.VALVE and not join.flight
    )
