"""Which tanks breathe by themselves, and where a chain of tanks has a second open vent."""

from __future__ import annotations

from collections.abc import Mapping

from plumbing.frozen import frozen
from plumbing.network.build import Network
from plumbing.network.flows import Flows
from plumbing.network.openings import Opening
from plumbing.network.paths import air_allowed
from plumbing.network.roles import Condition
from plumbing.network.runs import Run
from plumbing.network.spread import Allow, spread
from plumbing.network.stages import Stages


@frozen
class Vented:
    """A tank that air reaches without passing another tank.

    Attributes
    ----------
    tank : str
        The tank.
    openings : tuple of str
        Outlets and open ports the air comes from.
    run : int
        Number of the (first) run it comes by; tanks of one number share their vent.
    """

    tank: str
    openings: tuple[str, ...]
    run: int


def vented(
    network: Network, found: Stages, flows: Flows, openings: tuple[Opening, ...]
) -> dict[str, Vented]:
    """Tanks with an open vent of their own or a shared one, by name."""
    allow = air_allowed(network, flows, Condition.FLIGHT)
    by_node = {opening.node: opening for opening in openings if opening.is_open}
    result: dict[str, Vented] = {}
    for number, run in enumerate(found.runs.all):
        here = tuple(node for node in run.nodes if node in by_node)
        if not here or not run.tank_ports:
            continue
        for tank, names in _breathing(network, run, here, allow).items():
            known = result.get(tank)
            openings_of = tuple(by_node[node].name for node in names)
            result[tank] = Vented(
                tank,
                (*(known.openings if known else ()), *openings_of),
                known.run if known else number,
            )
    return result


def _breathing(
    network: Network, run: Run, here: tuple[str, ...], allow: Allow
) -> Mapping[str, tuple[str, ...]]:
    """Tanks that air enters from openings of a run, with the openings that reach a tank."""
    inward = spread(network, here, allow, through_tanks=False)
    tanks = tuple(
        tank
        for tank in dict.fromkeys(network.part_of(port) for port in run.tank_ports)
        if tank in inward
    )
    if len(here) == 1:
        return dict.fromkeys(tanks, here)
    ports = tuple(port for port in run.tank_ports if port in inward)
    outward = spread(network, ports, lambda n, f: allow(n, not f), through_tanks=False)
    reaching = tuple(node for node in here if node in outward)
    return dict.fromkeys(tanks, reaching)
