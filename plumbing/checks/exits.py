"""Ways out of a part: of the air while filling, of the fuel while parked."""

from plumbing.checks.case import Case
from plumbing.model.ground import Parking
from plumbing.network.filling import Fill
from plumbing.network.roles import Barrier, Condition
from plumbing.network.spread import spread
from plumbing.simulation.parking_engines import shut


def air_exits(case: Case, fill: Fill, tank: str) -> tuple[str, ...]:
    """Ports by which air leaves a tank for an open outlet while fuel comes in by another."""
    network = case.survey.network
    path = fill.path_to(tank)
    entry = path.ports[-1] if path is not None else ""
    outside = {opening.node for opening in case.survey.openings if opening.is_open}

    def allow(number: int, forward: bool) -> bool:
        join = network.joins[number]
        return join.passes(Condition.FILLING, forward) and tank not in (join.start, join.end)

    found = []
    for port in network.ports_of(tank):
        if port != entry and any(node in outside for node in spread(network, (port,), allow).stage):
            found.append(port.partition(".")[2])
    return tuple(found)


def open_to(case: Case, engine: str, parking: Parking) -> tuple[str, ...]:
    """Tanks whose fuel can run to an engine left parked, past a stopped pump."""
    network, valves = case.survey.network, case.layout.valves

    def allow(number: int, backward: bool) -> bool:
        join = network.joins[number]
        if join.barrier is Barrier.VALVE:
            return not shut(valves[join.name], parking)
        if join.barrier is Barrier.CAP:
            return False
        return join.barrier is Barrier.NONE or not backward

    reached = spread(network, (f"{engine}.feed",), allow)
    return tuple(name for name in case.layout.tanks if name in reached)
