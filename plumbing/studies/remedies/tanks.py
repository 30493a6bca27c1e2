"""Remedies at the tanks: a longer clunk, a tank moved within its bay, another feed order."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from plumbing.model.fields import Vector
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Port, Tank
from plumbing.simulation.computed import Computed
from plumbing.studies.remedies.parts import cut_anew
from plumbing.studies.remedies.proposal import Proposal
from plumbing.units import show

_CLEAR = 0.005  # a clunk stays short of the farthest corner and of a snag by this [m]
_WORTH = 0.005  # a longer reach than this is worth a new hose [m]
_BALANCE = frozenset(
    {
        "cg-outside-limits",
        "cg-leaves-limits-in-flight",
        "cg-travels-too-far",
        "tail-heavy-when-empty",
        "cg-bad-with-one-tank-stranded",
    }
)
_ORDER = frozenset({"feed-order-not-as-meant", "tanks-empty-in-other-order"})


def longer_clunk(case: Computed) -> Iterator[Proposal]:
    """Each clunk that cannot reach the farthest corner of its tank on a longer hose."""
    layout = case.layout
    for tank in layout.tanks.values():
        for port in tank.ports.values():
            longer = _longer(tank, port)
            if longer is None:
                continue
            ports = {**tank.ports, port.name: longer}
            reach = show((longer.pickup and longer.pickup.reach) or 0.0, "length")
            yield Proposal(
                change=f"a clunk at {tank.name}.{port.name} that reaches {reach}",
                costs="a new hose, and the tank opened once",
                layout=replace(
                    layout, tanks={**layout.tanks, tank.name: replace(tank, ports=ports)}
                ),
                aims=frozenset(
                    {"pickup-misses-low-corner", "fuel-stranded", "air-fills-header-in-flight"}
                ),
            )


def _longer(tank: Tank, port: Port) -> Port | None:
    pickup = port.pickup
    if pickup is None or not pickup.reach or not (pickup.kind == "clunk" or pickup.swings):
        return None
    corners = tank_mesh(tank).vertices
    farthest = float(np.linalg.norm(corners - np.array(port.at), axis=1).max()) - _CLEAR
    reach = min(farthest, (pickup.snag or np.inf) - _CLEAR)
    more = reach - pickup.reach
    if more < _WORTH:
        return None
    hose = None if pickup.hose is None else replace(pickup.hose, length=pickup.hose.length + more)
    return replace(port, pickup=replace(pickup, reach=reach, hose=hose))


def moved_tank(case: Computed) -> Iterator[Proposal]:
    """Each tank moved forwards or aft as far as its bay allows."""
    layout = case.layout
    for tank in layout.tanks.values():
        room = tank.fixing.allowance
        for by in (-room, room) if room else ():
            moved = replace(
                tank,
                shape=replace(tank.shape, at=_along(tank.shape.at, by)),
                ports={name: _moved(port, by) for name, port in tank.ports.items()},
            )
            where = "aft" if by > 0.0 else "forwards"
            yield Proposal(
                change=f"{tank.name} {show(abs(by), 'length')} {where}, within its bay",
                costs="its mounts and the ends of its lines moved",
                layout=cut_anew(
                    replace(layout, tanks={**layout.tanks, tank.name: moved}), tank.name
                ),
                aims=_BALANCE,
            )


def _along(point: Vector, by: float) -> Vector:
    return (point[0] + by, point[1], point[2])


def _moved(port: Port, by: float) -> Port:
    pickup = port.pickup
    if pickup is not None and pickup.rest is not None:
        pickup = replace(pickup, rest=_along(pickup.rest, by))
    opens = None if port.opens_at is None else _along(port.opens_at, by)
    return replace(port, at=_along(port.at, by), opens_at=opens, pickup=pickup)


def other_order(case: Computed) -> Iterator[Proposal]:
    """The order the vents decide taken as the one meant."""
    layout, found = case.layout, case.survey
    decided = found.order.tanks
    if layout.feed_order and decided and tuple(layout.feed_order) != tuple(decided):
        yield Proposal(
            change=f"mean the order the vents decide: {', '.join(decided)}",
            costs="the balance worked out for that order",
            layout=replace(layout, feed_order=tuple(decided)),
            aims=_ORDER,
        )
