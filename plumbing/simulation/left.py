"""What is left in the tanks at a moment of a flight, the aircraft brought back to level."""

from __future__ import annotations

import numpy as np

from plumbing.findings import Assumption
from plumbing.geometry.outline import rims
from plumbing.model.layout import Layout
from plumbing.model.tank import Tank
from plumbing.network import Survey
from plumbing.physics.arrays import Array
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.flight_result import History, PocketLeft
from plumbing.simulation.ground import breathers
from plumbing.simulation.levels import gas_kept
from plumbing.simulation.tankage import Tankage
from plumbing.simulation.vessel import Vessel
from plumbing.units import show, show_point

_LEAST = 1e-3  # share of its capacity that is worth telling [-]
_SEALED = 0.02  # share of its room that is worth telling where gas is shut in [-]
_ONE = np.zeros(1, dtype=np.intp)


def lying_assumed(layout: Layout, survey: Survey, tanks: Tankage) -> tuple[Assumption, ...]:
    """What is taken of tanks in which fuel lies, or gas stays, in pockets."""
    said = (
        "fuel runs over ridges at once, the aircraft turns slowly from one attitude to the next, "
        "and the gas over all pockets is one"
    )
    noted = []
    for one in tanks.vessels:
        if one.pools is not None:
            noted.append(Assumption(f"tanks.{one.name}.shape", said, "common practice"))
        if one.is_hollow:
            noted += _gas_assumed(survey, layout.tanks[one.name])
    return tuple(noted)


def _gas_assumed(survey: Survey, tank: Tank) -> list[Assumption]:
    """What is taken of gas in high pockets that no opening lets out."""
    ports = [tank.ports[name] for name in breathers(survey, tank.name)]
    if not ports:
        return []
    kept, top = gas_kept(tank, [port.opens_at or port.at for port in ports])
    if kept < _SEALED:
        return []
    said = (
        f"the {show(kept, 'share', 2)} of its room under the roof at {show_point(top)} takes gas "
        "in and lets it out in flight, though nothing opens there"
    )
    return [Assumption(f"tanks.{tank.name}.ports", said, "gas shut in is left out in flight")]


def pockets_left(
    survey: Survey, feeding: Feeding, history: History, moment: float
) -> tuple[PocketLeft, ...]:
    """Fuel in pockets without a pickup at a moment [s], the aircraft brought back to level.

    Parameters
    ----------
    survey : Survey
        Of the layout.
    feeding : Feeding
        The network that flew; the first direction of its tanks is level flight.
    history : History
        What came of it.
    moment : float
        When [s].
    """
    tanks = feeding.tanks
    if not tanks.has_pockets:
        return ()
    lying, found = _lying_level(feeding, history, moment)[0], []
    for vessel, own in zip(tanks.vessels, tanks.slices, strict=True):
        if vessel.pools is not None:
            found += _of(vessel, lying[own], survey.feed_ports(vessel.name))
    return tuple(found)


def surfaces_at(feeding: Feeding, history: History, moment: float) -> dict[str, tuple[Array, ...]]:
    """Outlines of the fuel's surfaces in each tank at a moment [s], shape (N, 3) each [m].

    The aircraft is brought back to level; parameters as for `pockets_left`.
    """
    tanks, found = feeding.tanks, {}
    levels = tanks.levels(_lying_level(feeding, history, moment), _ONE)[0]
    for vessel, own in zip(tanks.vessels, tanks.slices, strict=True):
        each, down = levels[own][vessel.begins(0)], tanks.down[0]
        found[vessel.name] = tuple(
            rim
            for level in np.unique(each)
            for rim in rims(vessel.mesh.only(each == level), down, float(level))
        )
    return found


def _lying_level(feeding: Feeding, history: History, moment: float) -> Array:
    """How the fuel lies at a moment [s], the aircraft brought back to level, shape (1, C) [m3]."""
    last = len(history.time) - 1
    row = min(int(np.searchsorted(history.time, moment, side="right")) - 1, last)
    after = min(row + 1, last)
    span = float(history.time[after] - history.time[row])
    part = (moment - float(history.time[row])) / span if span > 0.0 else 0.0
    lying = history.lying[[row]] + part * (history.lying[[after]] - history.lying[[row]])
    return feeding.tanks.turned(lying, feeding.index[history.stretch[[row]]], _ONE)


def _of(vessel: Vessel, lying: Array, ports: tuple[str, ...]) -> list[PocketLeft]:
    """Pockets of one tank that hold fuel (K,) [m3] and none of the ports."""
    assert vessel.pools is not None
    pockets = vessel.pools.pockets
    tree, pool = pockets.tree, pockets.pools(lying[None] / vessel.holds, _ONE)[0]
    fed = {int(pool[vessel.basin[port][0]]) for port in ports}
    found = []
    for node in sorted(set(pool[: tree.count[0]].tolist()) - fed):
        within = np.flatnonzero(tree.inside[0, node])
        volume = float(lying[within].sum())
        if volume < _LEAST * vessel.capacity:
            continue
        deepest = within[tree.low[0, within].argmin()]
        x, y, z = tree.mesh.vertices[tree.lowest[0, deepest]].tolist()
        ridge = float(tree.high[0, node] - tree.low[0, deepest])
        baffled = bool(tree.high[0, node] >= vessel.cut.top[0])
        found.append(PocketLeft(vessel.name, volume, (x, y, z), ridge, baffled))
    return found
