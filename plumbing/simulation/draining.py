"""Draining: what a drain lets out, or the filling pump draws back, and what stays on board."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import numpy as np

from plumbing.errors import SolveError
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array, Flags
from plumbing.physics.constants import ATMOSPHERE
from plumbing.results import NotComputed, Results, result_of
from plumbing.simulation.books import Books, by_tank, on_ground
from plumbing.simulation.draining_result import Drained
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.filling_pump import Pump
from plumbing.simulation.ground import (
    Moments,
    Vented,
    Watch,
    at_tanks,
    drain_attitude,
    filling_flow,
    for_draining,
    node_of,
    opened,
    outlet_names,
    require_met,
    surfaces,
)
from plumbing.simulation.march import Stopping, march
from plumbing.simulation.moment import NO_ENGINES, Balance, Balancing, FlameOut, Moment, Stretches
from plumbing.simulation.sealed import stretched_to

_LONGEST = 12 * 3600.0
_DRY = 30.0  # nothing but air for this long ends drawing [s]; common practice
_PULLS = 50e3  # suction a filling pump reaches before it draws vapour [Pa]; common practice
_STILL = 1e-10  # a drop in ten minutes [m3/s]
_TOLERANCE = 5e-3
_MOSTLY = 0.5  # liquid share of what still counts as fuel
_UNTIL_DRY = FlameOut(np.array([[_MOSTLY]]), _DRY, np.zeros((0, 1), dtype=bool))
_ONE = np.zeros(1, dtype=np.intp)


def drain_all(layout: Layout, survey: Survey) -> Results[Drained]:
    """Drain from full through every drain, and draw back through every fill port."""
    places = (*layout.drains, *layout.fill_ports)
    found: dict[str, Drained | NotComputed] = {}
    try:
        network = for_draining(layout, survey)
    except SolveError as why:
        found = {name: NotComputed(f"draining at {name}", str(why), name) for name in places}
    else:
        full = network.tanks.filled([[tank.fuel for tank in layout.tanks.values()]])
        for name in places:
            way = _run_out if name in layout.drains else _drawn
            take = partial(way, layout, survey, network, name, full)
            found[name] = result_of(f"draining at {name}", take, name)
    nothing = "the layout has neither a drain nor a fill port"
    return Results(found, NotComputed("draining", nothing, asked=False))


def _drawn(layout: Layout, survey: Survey, network: Vented, name: str, full: Array) -> Drained:
    """Draw at a fill port with the filling pump, until nothing but air comes."""
    node = node_of(network, f"{name}.tube")
    if node < 0:
        raise SolveError(f"no open line joins {name} to a tank", name)
    work = _pump(layout, network, node).at_rest()
    gas = network.tanks.capacity - full
    first = work.balance(_ONE, _ONE, full, gas)
    flow = float(first.burnt[0, -1])
    folds = _folded(layout, network, node, full)
    if not first.met[0]:
        raise SolveError("no steady flow was found with the tanks full", name)
    if flow <= 0.0:
        why = "no open way for air to follow the fuel"
        return replace(_nothing(layout, name, True, full, why), flat_vent_closed=folds)

    seen = _marched(network, full, work.balance, _UNTIL_DRY)
    pressure = work.extreme(seen)[:, 0]
    last = seen[-1]
    lost = dict(zip(outlet_names(survey, work.pump.outlets), last.spilt[0].tolist(), strict=True))
    books = _books(layout, full, last, float(last.burnt[0, -1]), lost)
    suction = _suction(layout, network, pressure)
    return _result(layout, network, name, True, flow, seen, books, suction, folds)


def _run_out(layout: Layout, survey: Survey, network: Vented, name: str, full: Array) -> Drained:
    """Open a drain and let the fuel run until nothing moves."""
    node = node_of(network, f"{name}.tube")
    if node < 0:
        raise SolveError(f"no open line joins {name} to a tank", name)
    run = opened(network, node)
    flow = float(run.balance(_ONE, _ONE, full).spilt[0, -1])
    if flow <= 0.0:
        why = _why_nothing_runs(layout, network, name, full)
        return _nothing(layout, name, False, full, why)
    seen = _marched(network, full, run.remembering(1))
    rows = np.zeros(len(seen), dtype=np.intp)
    pressure = run.pressures(Balance.joined([m.ended for m in seen]), rows, rows)
    last = seen[-1]
    *others, taken = last.spilt[0].tolist()
    lost = dict(zip(outlet_names(survey, run.plumbed.outlets[:-1]), others, strict=True))
    suction = _suction(layout, network, pressure)
    books = _books(layout, full, last, taken, lost)
    return _result(layout, network, name, False, flow, seen, books, suction, {})


def _why_nothing_runs(layout: Layout, network: Vented, name: str, full: Array) -> str:
    over = float(network.tanks.down[network.index[0]] @ np.array(layout.drains[name].at))
    if surfaces(network, full, _ONE).max() + over <= 0.0:
        return f"the fuel stands no higher than {name}"
    return "no open way for air to follow the fuel"


def _marched(
    network: Feeding,
    full: Array,
    balance: Balancing,
    out: FlameOut = NO_ENGINES,
    over: Stopping | None = None,
) -> list[Moment]:
    watch, seen = Watch(balance, _ONE, np.array([_STILL])), Moments()

    def stop(moment: Moment) -> Flags:
        dry = (moment.dry[:, -1:] >= out.patience).any(axis=1)
        done = over(moment) if over is not None else False
        return np.asarray(watch.settled(moment) | dry | done)

    march(
        network.tanks,
        Stretches(np.array([_LONGEST]), network.index),
        full,
        watch.balance,
        stop=stop,
        see=seen,
        tolerance=_TOLERANCE,
        flame_out=out,
    )
    require_met(seen.seen[-1])
    return seen.seen


def _suction(layout: Layout, network: Vented, pressure: Array) -> dict[str, float]:
    """Largest suction in each tank's gas space, pressures at nodes (M, N) [Pa]."""
    gas = at_tanks(network, pressure)
    most = np.maximum(-gas.min(axis=0, initial=0.0), 0.0)
    return dict(zip(layout.tanks, most.tolist(), strict=True))


def _books(
    layout: Layout, full: Array, last: Moment, taken: float, lost: dict[str, float]
) -> Books:
    return Books(
        until=float(last.time[0]),
        on_board=by_tank(layout, full[0]),
        left=by_tank(layout, last.volume[0]),
        taken=taken,
        lost=on_ground(lost),
    )


def _result(
    layout: Layout,
    network: Vented,
    name: str,
    sucked: bool,
    flow: float,
    seen: list[Moment],
    books: Books,
    suction: dict[str, float],
    folds: dict[str, float],
) -> Drained:
    tilt = drain_attitude(layout)
    return Drained(
        place=name,
        pitch=tilt[0],
        roll=tilt[1],
        sucked=sucked,
        flow=flow,
        why_not="",
        duration=float(seen[-1].time[0]),
        books=books,
        suction=suction,
        flat=tuple(one for one in layout.tanks if suction[one] > _strength(layout, network, one)),
        flat_vent_closed=folds,
    )


def _strength(layout: Layout, network: Vented, tank: str) -> float:
    wall = layout.tanks[tank].wall
    if network.tanks.vessels[list(layout.tanks).index(tank)].bag:
        return np.inf  # it folds as it gives
    return np.inf if wall is None or wall.collapse_suction is None else wall.collapse_suction


def _folded(layout: Layout, network: Vented, node: int, full: Array) -> dict[str, float]:
    """Fuel drawn by the filling pump until the first tank folds, every vent closed [m3].

    Nothing where the pump draws no more before that.
    """
    strength = np.array([_strength(layout, network, tank) for tank in layout.tanks])
    pump = _pump(layout, _with_vents_closed(network, node), node)
    work, nodes = pump.at_rest(), network.plumbed.tank_node

    def suction(found: Balance) -> Array:
        pressure = work.pressures(found, np.zeros(len(found.volume), dtype=np.intp))
        return np.where(nodes >= 0, -pressure[:, nodes], 0.0)

    def over(moment: Moment) -> Flags:
        return np.asarray((suction(moment.ended) >= strength).any(axis=1))

    found: dict[str, float] = {}
    if not (strength < ATMOSPHERE).any():
        return found
    seen = _marched(work.tapped, full, work.balance, _UNTIL_DRY, over)
    states = Balance.joined([side for one in seen for side in (one.began, one.ended)])
    taken = full.sum() - states.volume.sum(axis=1)
    pulled = suction(states)
    for tank, (name, limit) in enumerate(zip(layout.tanks, strength.tolist(), strict=True)):
        after = int(np.argmax(pulled[:, tank] >= limit))
        if pulled[after, tank] >= limit:
            before = max(after - 1, 0)
            part = stretched_to(-pulled[before, tank], -pulled[after, tank], limit)
            found[name] = float(taken[before] + part * (taken[after] - taken[before]))
    return found


def _with_vents_closed(network: Vented, node: int) -> Vented:
    """The same with every outlet closed but the place where fuel is drawn."""
    plumbed, blocked = network.plumbed, np.array(network.blocked)
    outlets = plumbed.outlet_node[plumbed.outlet_node != node]
    for side in (plumbed.circuit.start, plumbed.circuit.end):
        blocked[:, np.isin(side, outlets)] = True
    return replace(network, blocked=blocked)


def _pump(layout: Layout, network: Vented, node: int) -> Pump:
    """The filling pump drawing at a node as fast as it fills."""
    return Pump(network, node, np.array([-filling_flow(layout)]), _PULLS)


def _nothing(layout: Layout, name: str, sucked: bool, full: Array, why: str) -> Drained:
    left = dict(zip(layout.tanks, full[0].tolist(), strict=True))
    tilt = drain_attitude(layout)
    return Drained(
        place=name,
        pitch=tilt[0],
        roll=tilt[1],
        sucked=sucked,
        flow=filling_flow(layout) if sucked else 0.0,
        why_not=why,
        duration=0.0,
        books=Books(until=0.0, on_board=left, left=left),
        suction=dict.fromkeys(layout.tanks, 0.0),
        flat=(),
        flat_vent_closed={},
    )
