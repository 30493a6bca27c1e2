"""Draining: what a drain lets out, or the filling pump draws back, and what stays on board."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

import numpy as np

from plumbing.errors import SolveError
from plumbing.geometry.attitude import gravity_body
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array, Flags
from plumbing.physics.constants import ATMOSPHERE
from plumbing.results import NotComputed, Results, result_of
from plumbing.simulation.draining_result import Drained
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.filling import USUAL_FLOW
from plumbing.simulation.ground import (
    Ground,
    Moments,
    Watch,
    feeding_at,
    ground,
    solved,
)
from plumbing.simulation.march import march
from plumbing.simulation.moment import Moment, Stretches
from plumbing.simulation.setup import closed_while

_LONGEST = 12 * 3600.0
_DRY = 30.0  # nothing but air for this long ends drawing [s]; common practice
_PULLS = 50e3  # suction a filling pump reaches before it draws vapour [Pa]; common practice
_FLOWS = 16  # flows tried where the full flow asks for more
_STILL = 1e-10  # a drop in ten minutes [m3/s]
_TOLERANCE = 5e-3
_MOSTLY = 0.5  # liquid share of what still counts as fuel


def drain_all(layout: Layout, survey: Survey) -> Results[Drained]:
    """Drain from full through every drain, and draw back through every fill port."""
    places = (*layout.drains, *layout.fill_ports)
    found: dict[str, Drained | NotComputed] = {}
    try:
        take = _taking(layout, survey)
    except SolveError as why:
        found = {name: NotComputed(f"draining at {name}", str(why), name) for name in places}
    else:
        for name in places:
            found[name] = result_of(f"draining at {name}", partial(take, name), name)
    nothing = "the layout has neither a drain nor a fill port"
    return Results(found, NotComputed("draining", nothing, asked=False))


def _taking(layout: Layout, survey: Survey) -> Callable[[str], Drained]:
    """How the full layout is emptied at a place."""
    gravity = gravity_body(layout.filling.pitch, layout.filling.roll)[None]
    grounded = ground(layout, survey, gravity, layout.filling.temperature)
    blocked = grounded.plumbed.blocked(closed_while(layout, "filling"))[None]
    full = np.array([[tank.fill for tank in layout.tanks.values()]]) * grounded.tanks.capacity

    def take(name: str) -> Drained:
        way = _run_out if name in layout.drains else _drawn
        return way(layout, grounded, name, blocked, full)

    return take


def _drawn(layout: Layout, grounded: Ground, name: str, blocked: Flags, full: Array) -> Drained:
    """Draw at a fill port with the flow of the filling pump."""
    flow = layout.filling.flow or USUAL_FLOW
    node = grounded.node(f"{name}.tube")
    if node < 0:
        raise SolveError(f"no open line joins fill port {name} to a tank", name)
    flows = flow * np.geomspace(1.0, 0.01, _FLOWS)
    tried = feeding_at(grounded, [(node, flows)], blocked=blocked)
    rows, one = np.arange(_FLOWS), np.zeros(_FLOWS, dtype=np.intp)
    first = solved(tried, rows, one, np.repeat(full, _FLOWS, axis=0))
    within = first.converged & (first.pressure[:, node] > -_PULLS) & ~first.starved[:, node]
    if not first.converged.any():
        raise SolveError(first.why(_FLOWS - 1), name)
    if not within.any():
        why = first.why(_FLOWS - 1) or "the pump cannot draw hard enough"
        return replace(
            _nothing(layout, name, True, flow, full, why),
            flat_vent_closed=_folds(layout, grounded, full[0]),
        )
    flow = float(flows[np.argmax(within)])
    feeding = feeding_at(grounded, [(node, np.array([flow]))], blocked=blocked)
    return _marched(layout, grounded, feeding, name, full, flow)


def _run_out(layout: Layout, grounded: Ground, name: str, blocked: Flags, full: Array) -> Drained:
    """Open a drain and let the fuel run."""
    node = grounded.node(f"{name}.tube")
    if node < 0:
        raise SolveError(f"no open line joins {name} to a tank", name)
    feeding = _opened(feeding_at(grounded, blocked=blocked), node)
    first = feeding.balance(np.zeros(1, dtype=np.intp), np.zeros(1, dtype=np.intp), full)
    flow = -float(first.rate.sum())
    if flow <= 0.0:
        why = "no air gets in behind the fuel, or it stands no higher than the drain"
        return _nothing(layout, name, False, 0.0, full, why)
    return _marched(layout, grounded, feeding, name, full, flow)


def _opened(feeding: Feeding, node: int) -> Feeding:
    """The same with one more opening at ambient pressure."""
    plumbed = feeding.plumbed
    circuit = plumbed.circuit
    fixed, mixing = circuit.fixed.copy(), circuit.mixing.copy()
    fixed[node], mixing[node] = True, False
    if node not in plumbed.outlet_node:
        plumbed = replace(
            plumbed,
            outlets=(*plumbed.outlets, circuit.nodes[node]),
            outlet_node=np.append(plumbed.outlet_node, node),
        )
    plumbed = replace(plumbed, circuit=replace(circuit, fixed=fixed, mixing=mixing))
    return replace(feeding, ends=replace(feeding.ends, plumbed=plumbed))


def _marched(
    layout: Layout, grounded: Ground, feeding: Feeding, name: str, full: Array, flow: float
) -> Drained:
    sucked = bool(feeding.plumbed.demands)
    zero, seen = np.zeros(1, dtype=np.intp), Moments()
    watch = Watch(feeding, zero, np.array([_STILL]))

    def over(moment: Moment) -> Flags:
        dry = (moment.dry >= _DRY).all(axis=1) if sucked else False
        return np.asarray(watch.settled(moment) | dry)

    last = march(
        feeding.tanks,
        Stretches(np.array([_LONGEST]), grounded.index),
        full,
        watch.balance,
        stop=over,
        see=seen,
        tolerance=_TOLERANCE,
    )
    time, volume = seen.time(0), seen.volume(0)
    rows = np.zeros(len(time), dtype=np.intp)
    node = feeding.plumbed.tank_node
    wet = np.array([moment.share[0].max(initial=0.0) >= _MOSTLY for moment in seen.seen])
    gas = np.where(node >= 0, solved(feeding, rows, rows, volume).pressure[:, node], 0.0)
    gas = gas[wet] if sucked and wet.any() else gas
    suction = dict(zip(layout.tanks, np.maximum(-gas.min(axis=0), 0.0).tolist(), strict=True))
    return Drained(
        place=name,
        sucked=sucked,
        flow=flow,
        why_not="",
        duration=float(time[-1]),
        on_board=float(full.sum()),
        taken=float(last.burnt.sum() if sucked else full.sum() - volume[-1].sum()),
        left=dict(zip(layout.tanks, volume[-1].tolist(), strict=True)),
        suction=suction,
        flat=tuple(one for one in layout.tanks if suction[one] > _strength(layout, one)),
        flat_vent_closed=_folds(layout, grounded, full[0]) if sucked else {},
    )


def _strength(layout: Layout, tank: str) -> float:
    wall = layout.tanks[tank].wall
    return np.inf if wall is None or wall.collapse_suction is None else wall.collapse_suction


def _folds(layout: Layout, grounded: Ground, full: Array) -> dict[str, float]:
    """Fuel drawn until each tank folds when no air comes in: all the air on board stretches."""
    air = float(grounded.tanks.capacity.sum() - full.sum())
    found = {}
    for tank in layout.tanks:
        suction = _strength(layout, tank)
        if suction < ATMOSPHERE:
            found[tank] = air * suction / (ATMOSPHERE - suction)
    return found


def _nothing(
    layout: Layout, name: str, sucked: bool, flow: float, full: Array, why: str
) -> Drained:
    return Drained(
        place=name,
        sucked=sucked,
        flow=flow,
        why_not=why,
        duration=0.0,
        on_board=float(full.sum()),
        taken=0.0,
        left=dict(zip(layout.tanks, full[0].tolist(), strict=True)),
        suction=dict.fromkeys(layout.tanks, 0.0),
        flat=(),
        flat_vent_closed={},
    )
