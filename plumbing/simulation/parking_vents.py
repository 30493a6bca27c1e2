"""Vents of an aircraft left standing: which stand under fuel, which run, how much and how fast."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from plumbing.hydraulics.plumbed import NO_TANK, Plumbed
from plumbing.hydraulics.solver import solve
from plumbing.network.vent_ways import VentWay
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.physics.bubbles import capillary_lock_bore
from plumbing.physics.constants import ATMOSPHERE
from plumbing.simulation.area import area_under
from plumbing.simulation.parking_ground import Ground, feeding_at
from plumbing.simulation.parking_result import OutletParked, State

_LEVELS = 10  # levels between full and lost at which the flow is worked out
_ALMOST = 0.99  # of the loss, after which it counts as lost
_WET = 0.5
_HANGS = 2.0  # a surface across an open end stays whole up to twice the bore that locks a bubble
_STOPPED = 1e-9  # a drop a minute [m3/s]
LONGEST = 24 * 3600.0  # losing is not followed further [s]
_PRIMING = 1e-7  # flow that tells the solver which way a siphon runs [m3/s]


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """One way from a tank to an outlet in A attitudes.

    Attributes
    ----------
    way : VentWay
        The way.
    head, rise : Array
        Surface over the outlet, highest point over the surface, shape (A,) [m].
    wet : Flags
        Whether the tank's vent port is under fuel, shape (A,).
    loss : Array
        Fuel over the lower of port and outlet: what can be lost, shape (A,) [m3].
    """

    way: VentWay
    head: Array
    rise: Array
    wet: Flags
    loss: Array

    @property
    def can_run(self) -> Flags:
        """Whether fuel runs once the line is full of it, shape (A,)."""
        return self.wet & (self.head > 0.0)


def standing(grounded: Ground, way: VentWay, volume: Array, attitude: Indices) -> Standing:
    """A way from a tank to an outlet.

    Parameters
    ----------
    grounded : Ground
        The layout in its attitudes.
    way : VentWay
        The way.
    volume : Array
        Fuel in each tank, shape (A, T) [m3].
    attitude : Indices
        Attitude of each row, shape (A,).
    """
    number = grounded.plumbed.tanks.index(way.tank.name)
    vessel, index = grounded.tanks.vessels[number], grounded.index[attitude]
    down, held = grounded.tanks.down[index], volume[:, number]
    level = vessel.level(held, index)
    outlet = -down @ np.array(way.outlet.at)
    dry, covered = vessel.dry[way.port.name][index], vessel.covered[way.port.name][index]
    kept = np.maximum(dry, vessel.cut.volume_at(outlet, index) * vessel.holds)
    wet = held > dry + _WET * (covered - dry)
    return Standing(
        way=way,
        head=level - outlet,
        rise=way.crest(down) - level,
        wet=wet,
        loss=np.where(wet, np.maximum(held - kept, 0.0), 0.0),
    )


def outlets_parked(
    grounded: Ground,
    ways: list[VentWay],
    volume: Array,
    blocked: Flags,
    capped: Flags,
) -> list[tuple[OutletParked, ...]]:
    """Every way in every attitude, with flows, shape (A,) of tuples.

    Parameters
    ----------
    grounded : Ground
        The layout in A attitudes.
    ways : list of VentWay
        Ways from tanks to outlets.
    volume : Array
        Fuel in each tank, shape (A, T) [m3].
    blocked : Flags
        Ends closed in each attitude, shape (A, B, 2).
    capped : Flags
        Whether the vents are capped, shape (A,).
    """
    attitude = np.arange(len(volume))
    found = [standing(grounded, way, volume, attitude) for way in ways]
    rates, times = _emptying(grounded, found, volume, attitude)
    openings = [_openings(grounded.plumbed, closed) for closed in blocked]
    return [
        tuple(
            _outlet(
                grounded,
                one,
                at,
                (float(rates[number, at]), float(times[number, at])),
                _sealed(grounded, one.way, openings[at]),
                volume[at],
                bool(capped[at]) or not _open(grounded, one.way),
            )
            for number, one in enumerate(found)
        )
        for at in range(len(volume))
    ]


def _outlet(
    grounded: Ground,
    one: Standing,
    at: int,
    running: tuple[float, float],
    shared_air: float | None,
    volume: Array,
    capped: bool,
) -> OutletParked:
    """One way in one attitude; `shared_air` is the closed air behind it, None if it is open."""
    rate, time = running
    loss, state = float(one.loss[at]), _state(one, at)
    if capped:
        state, rate, loss, time = "capped", 0.0, 0.0, 0.0
    elif state in ("runs", "siphons") and shared_air is not None:
        tension = grounded.fluids.surface_tension
        lock = float(capillary_lock_bore(grounded.fluids.liquid_density, tension)[0])
        if one.way.bore < _HANGS * lock:
            pulled = grounded.weight * float(one.head[at])
            air = float(grounded.tanks.capacity.sum() - volume.sum()) * shared_air
            state, loss = "held", min(loss, air * pulled / max(ATMOSPHERE - pulled, 1.0))
            time = 0.0
    return OutletParked(
        tank=one.way.tank.name,
        outlet=one.way.outlet.name,
        lines=one.way.lines,
        state=state,
        head=float(one.head[at]),
        rise=float(one.rise[at]),
        rate=rate if one.can_run[at] else 0.0,
        loss=loss,
        time=time if loss > 0.0 else 0.0,
    )


def _open(grounded: Ground, way: VentWay) -> bool:
    """Whether nothing plugs the outlet."""
    return bool(grounded.plumbed.circuit.fixed[grounded.node(f"{way.outlet.name}.tube")])


def _state(one: Standing, at: int) -> State:
    if not one.wet[at]:
        return "dry"
    if one.head[at] <= 0.0:
        return "above"
    return "runs" if one.rise[at] <= 0.0 else "siphons"


def _openings(plumbed: Plumbed, blocked: Flags) -> Indices:
    """Label of each node's group of open branches, shape (N,)."""
    circuit = plumbed.circuit
    label = np.arange(len(circuit.nodes))
    shut = blocked.all(axis=1)
    for _ in circuit.nodes:
        before = label.copy()
        for branch in np.flatnonzero(~shut):
            pair = [circuit.start[branch], circuit.end[branch]]
            label[pair] = label[pair].min()
        if (before == label).all():
            break
    return label


def _sealed(grounded: Ground, way: VentWay, label: Indices) -> float | None:
    """Share of the air on board behind a way with no second opening; None if there is one."""
    plumbed, circuit = grounded.plumbed, grounded.plumbed.circuit
    tank = plumbed.tank_node[plumbed.tanks.index(way.tank.name)]
    together = label == label[tank]
    if (circuit.fixed & together).sum() > 1:
        return None
    inside = (plumbed.tank_node >= 0) & together[plumbed.tank_node]
    return float(inside.sum() / max(len(inside), 1))


def vent_branches(plumbed: Plumbed, ways: list[VentWay]) -> dict[int, list[VentWay]]:
    """Branches of the circuit that belong to ways from a tank to an outlet."""
    found: dict[int, list[VentWay]] = {}
    for way in ways:
        for line in way.lines:
            if line in plumbed.line_branch:
                found.setdefault(plumbed.line_branch[line][0], []).append(way)
    return {branch: list(dict.fromkeys(these)) for branch, these in found.items()}


def _emptying(
    grounded: Ground, found: list[Standing], volume: Array, attitude: Indices
) -> tuple[Array, Array]:
    """First flow [m3/s] and time to lose almost all [s] of each way, both (ways, A).

    Every tank's air is taken to be at ambient pressure and every vent full of fuel; the flow is
    worked out at levels between full and lost, in one solve, and summed up over the volume.
    """
    count = len(attitude)
    if not found or not any(one.can_run.any() for one in found):
        return np.zeros((len(found), count)), np.zeros((len(found), count))
    done = np.linspace(0.0, _ALMOST, _LEVELS)
    rows = np.repeat(attitude, _LEVELS)
    lost = np.zeros_like(volume)
    for one in found:
        number = grounded.plumbed.tanks.index(one.way.tank.name)
        lost[:, number] = np.maximum(lost[:, number], np.where(one.can_run, one.loss, 0.0))
    held = np.repeat(volume, _LEVELS, axis=0) - np.repeat(lost, _LEVELS, axis=0) * np.tile(
        done, count
    ).reshape(-1, 1)
    flows = _free_flows(grounded, [one.way for one in found], held, rows)
    rates = np.maximum(flows.reshape(len(found), count, _LEVELS), 0.0)
    times = np.zeros((len(found), count))
    for number, one in enumerate(found):
        slow = 1.0 / np.maximum(rates[number], _STOPPED)
        times[number] = np.minimum(area_under(slow, done) * one.loss, LONGEST)
    return rates[:, :, 0], times


def _free_flows(grounded: Ground, ways: list[VentWay], held: Array, rows: Indices) -> Array:
    """Fuel leaving each tank by each way with all air at ambient pressure, (ways, R) [m3/s]."""
    plumbed = grounded.plumbed
    circuit = plumbed.circuit
    vents = vent_branches(plumbed, ways)
    fixed = circuit.fixed.copy()
    fixed[plumbed.tank_node[plumbed.tank_node >= 0]] = True
    freed = replace(circuit, fixed=fixed, mixing=circuit.mixing & ~fixed)
    feeding = feeding_at(grounded)
    feeding = replace(
        feeding, ends=replace(feeding.ends, plumbed=replace(feeding.plumbed, circuit=freed))
    )
    conditions = feeding.conditions(np.zeros_like(rows), rows, held)
    shut = np.ones((1, len(circuit.branches), 2), dtype=bool)
    shut[:, list(vents)] = False
    sense = np.where(plumbed.end_tank[:, 0] != NO_TANK, 1.0, -1.0) * _PRIMING
    start = np.where(shut[0, :, 0], 0.0, sense)
    state = solve(freed, replace(conditions, blocked=shut), start)
    liquid = state.flow * state.share
    found = np.zeros((len(ways), len(rows)))
    for number, way in enumerate(ways):
        branch = plumbed.line_branch.get(way.lines[0], (-1, True))[0]
        if branch >= 0:
            tank = plumbed.tanks.index(way.tank.name)
            outwards = 1.0 if plumbed.end_tank[branch, 0] == tank else -1.0
            found[number] = outwards * liquid[:, branch]
    return found
