"""Filling through one port until fuel leaves the overflow and nothing more is gained."""

from __future__ import annotations

import numpy as np

from plumbing.errors import SolveError
from plumbing.model.layout import Layout
from plumbing.model.meshes import tank_mesh
from plumbing.network import Survey
from plumbing.network.filling import Fill
from plumbing.physics.arrays import Array
from plumbing.results import NotComputed, Results, result_of
from plumbing.simulation.area import area_under
from plumbing.simulation.books import Books, by_tank, on_ground
from plumbing.simulation.filling_flow import safe_flow
from plumbing.simulation.filling_pump import Pump
from plumbing.simulation.filling_result import LACKS, Filled, Pushed, Spill, TankFilled
from plumbing.simulation.filling_run import SPILLS, FillingRun, run_filling
from plumbing.simulation.ground import (
    Vented,
    at_tanks,
    filling_flow,
    for_fuelling,
    node_of,
    outlet_names,
)

LEAK_AT = 10e3  # pressure at which a pump's leak is stated [Pa]
_ARRIVED = 2e-3  # share of what it holds in the end with which fuel has come to a tank
_SHORT = 0.02  # share of what it holds in the end that a tank lacks which still fills


def fill(layout: Layout, survey: Survey, port: str | None = None) -> Filled:
    """Fill an empty layout.

    Parameters
    ----------
    layout, survey
        The layout and its survey.
    port : str, optional
        Fill port; by default the stated one, or the only one.

    Returns
    -------
    Filled
        Order and times, trapped air, pressures, overflow, the highest safe flow.

    Raises
    ------
    SolveError
        No open line joins the port, or any tank, to anything, or no steady flow was found.
    KeyError
        There is no such fill port, or there are several and none is stated.
    """
    usual = survey.fill
    name = port or (usual.port if usual else next(iter(layout.fill_ports), ""))
    plan = survey.fills[name]
    network = for_fuelling(layout, survey, traps=True)
    why = _why_not(layout, network, plan)
    return _nothing(layout, plan, why) if why else _filled(layout, survey, network, plan)


def fill_all(layout: Layout, survey: Survey) -> Results[Filled]:
    """Fill through the stated port, then through every other that reaches a tank left empty."""
    usual = survey.fill
    names = list(dict.fromkeys(([usual.port] if usual else []) + list(layout.fill_ports)))
    filled: dict[str, Filled | NotComputed] = {}
    reached: set[str] = set()
    for name in names:
        reaches = set(survey.fills[name].filled)
        if not reached or not reaches or reaches - reached:
            filled[name] = filled_through(layout, survey, name)
            reached |= reaches
    return Results(filled, NotComputed("filling", "the layout has no fill port", asked=False))


def filled_through(layout: Layout, survey: Survey, port: str) -> Filled | NotComputed:
    """Fill an empty layout through one port."""
    return result_of(f"filling through {port}", lambda: fill(layout, survey, port), port)


def _why_not(layout: Layout, network: Vented, plan: Fill) -> str:
    """Why the pump can push nothing in, in words; empty if it can.

    Raises
    ------
    SolveError
        No open line joins the port to a tank, or no steady flow was found.
    """
    node = node_of(network, f"{plan.port}.tube")
    if node < 0 or not (plan.filled or plan.dead_ended):
        shut = f": {', '.join(plan.closed_valves)} closed" if plan.closed_valves else ""
        raise SolveError(f"no open line joins fill port {plan.port} to a tank{shut}", plan.port)
    zero = np.zeros(1, dtype=np.intp)
    empty, gas = np.zeros((1, len(layout.tanks))), network.tanks.capacity[None]
    pump = Pump(network, node, np.array([filling_flow(layout)]))
    first = pump.at_rest().balance(zero, zero, empty, gas)
    if not plan.filled or first.burnt[0, -1] == 0.0:
        return f"no open way for the air out of {' and '.join(plan.dead_ended)}"
    if not first.met[0]:
        raise SolveError("no steady flow was found with the tanks empty", plan.port)
    return ""


def _missed(layout: Layout, plan: Fill, tank: str) -> str:
    if tank in plan.dead_ended:
        return "no open way for the air out of it"
    if tank in plan.filled:
        return "fuel leaves an outlet before it gets there"
    shut = [valve for valve in plan.closed_valves if valve in layout.valves]
    return f"no open line from {plan.port}" + (f": {', '.join(shut)} closed" if shut else "")


def _nothing(layout: Layout, plan: Fill, why: str) -> Filled:
    nothing = dict.fromkeys(layout.tanks, 0.0)
    return Filled(
        port=plan.port,
        flow=filling_flow(layout),
        assumed=layout.filling.flow is None,
        why_not=why,
        time=np.zeros(1),
        pushed_in=np.zeros(1),
        volume=np.zeros((1, len(layout.tanks))),
        tanks={},
        missed={tank: _missed(layout, plan, tank) for tank in layout.tanks},
        books=Books(until=0.0, on_board=nothing, left=nothing),
        spills=(),
        port_pressure=layout.filling.pump_pressure or 0.0,
        pump_limits=0.0,
        closed_pressure=layout.filling.pump_pressure,
        safe=None,
        reversed_filters=plan.reversed_filters,
        reversed_pickups=plan.reversed_pickups,
        pushed=(),
        names=tuple(layout.tanks),
    )


def _filled(layout: Layout, survey: Survey, network: Vented, plan: Fill) -> Filled:
    flow = filling_flow(layout)

    def running(flows: Array) -> tuple[FillingRun, ...]:
        return run_filling(layout, survey, network, plan.port, flows)

    (run,) = running(np.array([flow]))
    spills = tuple(sorted(_spills(layout, survey, run), key=lambda spill: spill.first))
    tight = network.tanks.has_bags and not spills  # nothing goes on into a bag that is full
    through = 0.0 if tight else -float(run.full.burnt[0, -1])
    tanks = {one.tank: one for one in _tanks(layout, run, spills)}
    return Filled(
        port=plan.port,
        flow=flow,
        assumed=layout.filling.flow is None,
        why_not="",
        time=run.time,
        pushed_in=run.pushed_in,
        volume=run.volume,
        tanks=tanks,
        missed={n: _missed(layout, plan, n) for n in layout.tanks if n not in tanks},
        books=_books(layout, survey, run),
        spills=spills,
        port_pressure=float(run.full.pressure[0, run.node]),
        pump_limits=through if through < (1.0 - 1e-6) * flow else None,
        closed_pressure=layout.filling.pump_pressure,
        safe=safe_flow(layout, run, running),
        reversed_filters=plan.reversed_filters,
        reversed_pickups=plan.reversed_pickups,
        pushed=tuple(_pushed(layout, run, plan)),
        names=tuple(layout.tanks),
    )


def _books(layout: Layout, survey: Survey, run: FillingRun) -> Books:
    lost = dict(zip(outlet_names(survey, run.outlets), run.spilt[-1].tolist(), strict=True))
    return Books(
        until=float(run.time[-1]),
        on_board=dict.fromkeys(layout.tanks, 0.0),
        pushed_in=float(run.pushed_in[-1]),
        left=by_tank(layout, run.volume[-1]),
        lost=on_ground(lost),
    )


def _tanks(layout: Layout, run: FillingRun, spills: tuple[Spill, ...]) -> list[TankFilled]:
    time, volume, lowest = run.time, run.volume, run.lowest
    before = time < (spills[0].first if spills else np.inf)
    highest, gas = run.highest, at_tanks(run.network, run.full.pressure)[0]
    found = []
    for number, tank in enumerate(layout.tanks.values()):
        held = volume[:, number]
        if run.network.plumbed.tank_node[number] < 0 or held[-1] <= 0.0:
            continue
        capacity = (1.0 - min(tank.displaced, 0.95)) * tank_mesh(tank).volume
        folded = run.network.tanks.vessels[number].bag is not None  # its slack is no air
        found.append(
            TankFilled(
                tank=tank.name,
                begins=_first(time, held > _ARRIVED * held[-1]),
                full=_first(time, held >= (1.0 - LACKS) * held[-1]),
                holds=float(held[-1]),
                trapped=0.0 if folded else max(capacity - float(held[-1]), 0.0),
                pressure_before=float(lowest[before, number].max(initial=0.0)),
                pressure=float(highest[number]),
                gas=float(gas[number]),
                rated=tank.wall.proof_pressure if tank.wall else None,
            )
        )
    return sorted(found, key=lambda one: (one.full or 0.0, one.begins or 0.0))


def _spills(layout: Layout, survey: Survey, run: FillingRun) -> list[Spill]:
    time, volume, leaving = run.time, run.volume, run.leaving
    found = []
    for name, out in zip(outlet_names(survey, run.outlets), leaving.T, strict=True):
        when = _first(time, out > SPILLS * run.flow)
        if when is None:
            continue
        short = volume[int(np.searchsorted(time, when))] < (1.0 - _SHORT) * volume[-1]
        names = [n for n, lacks in zip(layout.tanks, short, strict=True) if lacks]
        found.append(Spill(name, when, float(out[-1]), tuple(names)))
    return found


def _pushed(layout: Layout, run: FillingRun, plan: Fill) -> list[Pushed]:
    found = []
    for way in plan.engines:
        pumps = [part for part in way.path.parts if part in layout.pumps]
        node = node_of(run.network, f"{pumps[0]}.in") if pumps else -1
        if not way.floods or node < 0:
            continue
        pressure = np.maximum(run.pressure[:, node], 0.0)
        leak = layout.pumps[pumps[0]].leak_flow
        volume = None
        if leak is not None:
            volume = float(leak / LEAK_AT * area_under(pressure, run.time))
        found.append(Pushed(way.engine, pumps[0], float(pressure.max()), volume))
    return found


def _first(time: Array, when: Array) -> float | None:
    places = np.flatnonzero(when)
    return float(time[places[0]]) if places.size else None
