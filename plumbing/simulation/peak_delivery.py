"""The pressure side at full flow: what the pump must give, and what it can."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from plumbing.errors import SolveError
from plumbing.findings import Figure
from plumbing.frozen import frozen
from plumbing.hydraulics.breakdown import Breakdown, breakdown
from plumbing.hydraulics.compile import compile_delivery
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.layout_circuit import Plumbed
from plumbing.hydraulics.line_elements import Reference
from plumbing.hydraulics.solver import Solution, solve
from plumbing.model.engine import Engine
from plumbing.model.layout import Layout
from plumbing.model.parts import Pump
from plumbing.network import Survey
from plumbing.physics.arrays import Array
from plumbing.results import NotComputed
from plumbing.simulation.fluid import fluids_at
from plumbing.simulation.peak_path import drops_of_parts, suction_path
from plumbing.simulation.peak_result import ElementDrop

_FLOWS = np.linspace(0.2, 3.0, 57)  # flows tried, over full flow
_CLEAN, _DIRTY, _COLD_DIRTY, _CASES = 0, 1, 2, 3  # at full flow; two at the usual temperature


Drops = tuple[float, float | None]


@frozen
class Delivery:
    """What the pressure side of one engine comes to, or why it could not be computed."""

    elements: tuple[ElementDrop, ...]
    filter_drops: Mapping[str, Drops | NotComputed]
    head_needed: Figure | NotComputed
    head_available: float | NotComputed
    flow_available: float | NotComputed


@frozen(eq=False)
class _Solved:
    plumbed: Plumbed
    solution: Solution
    parts: Breakdown


def delivery(layout: Layout, survey: Survey, name: str, suction: Figure) -> Delivery:
    """Pressure side of one engine.

    Parameters
    ----------
    layout, survey
        The layout and its survey.
    name : str
        The engine.
    suction : Figure
        Suction at the pump inlet with dirty filters [Pa], which the pump has to make up for.
    """
    pumps = survey.feeds[name].pumps
    if not pumps:
        return _nothing(NotComputed(f"pressure side of {name}", "no pump", name, asked=False))
    try:
        kind, drawn, unkind = (_solve(layout, survey, name, pumps[-1], at) for at in (-1, 0, 1))
    except SolveError as why:
        return _nothing(NotComputed(f"pressure side of {name}", str(why), name))
    engine, pump = layout.engines[name], layout.pumps[pumps[-1]]
    node = int(drawn.plumbed.demand_node[drawn.plumbed.demands.index(name)])
    path = suction_path(
        drawn.plumbed, drawn.solution, drawn.parts, _CLEAN, drawn.plumbed.demands.index(name)
    )
    _, filters = drops_of_parts(layout, drawn.plumbed, drawn.parts, _CLEAN, _DIRTY)
    lost = [-float(one.solution.pressure[_COLD_DIRTY, node]) for one in (kind, drawn, unkind)]
    return Delivery(
        elements=path.elements(drawn.parts, (kind.parts, unkind.parts), _CLEAN),
        filter_drops=filters,
        head_needed=_needed(engine, lost, suction),
        head_available=_on_curve(pump, engine),
        flow_available=_reached(pump, engine, drawn, node, suction),
    )


def _nothing(why: NotComputed) -> Delivery:
    """Nothing but the reason; of which filters it holds the drops is not known."""
    return Delivery((), {why.what: why} if why.asked else {}, why, why, why)


def _solve(layout: Layout, survey: Survey, name: str, pump: str, side: int) -> _Solved:
    """Solve one pressure side: the three cases above, then all flows at the usual temperature."""
    tolerances, warmth = layout.tolerances, layout.fuel.temperature
    usual = fluids_at(layout, np.array([warmth.usual]))
    full = layout.engines[name].full_flow or 0.0
    reference = Reference(full, float(usual.liquid_viscosity[0]), -side * tolerances.bore)
    plumbed = compile_delivery(layout, survey, reference, pump)
    if plumbed is None or name not in plumbed.demands:
        raise SolveError(f"no open line joins {pump} to {name} and to nothing else")
    factor = 1.0 + side * tolerances.viscosity
    celsius = np.full(_CASES + len(_FLOWS), warmth.usual)
    celsius[_COLD_DIRTY] = warmth.coldest
    fluids = fluids_at(layout, celsius, factor)
    flows = np.array([layout.engines[one].full_flow or 0.0 for one in plumbed.demands])
    shares = np.concatenate([np.ones(_CASES), _FLOWS])
    dirty = np.isin(np.arange(len(celsius)), (_DIRTY, _COLD_DIRTY))
    conditions = Conditions.of(
        plumbed.circuit,
        liquid_density=fluids.liquid_density,
        liquid_viscosity=fluids.liquid_viscosity,
        demand=plumbed.demand(shares[:, None] * flows),
        share=1.0,
        dirt=np.where(dirty[:, None], plumbed.dirty, 1.0),
        band=0.5 * (1 + side),
    )
    solution = solve(plumbed.circuit, conditions)
    bad = np.flatnonzero(~solution.converged)
    if bad.size:
        raise SolveError(solution.why(int(bad[0])))
    return _Solved(plumbed, solution, breakdown(plumbed.circuit, conditions, solution))


def _needed(engine: Engine, lost: list[float], suction: Figure) -> Figure | NotComputed:
    """Pressure rise the pump must give, with the band of losses and suction."""
    if engine.feed_pressure_full is None:
        return _lacks_feed_pressure("pump pressure needed", engine)
    low = suction.low if suction.low is not None else suction.value
    high = suction.high if suction.high is not None else suction.value
    kind, drawn, unkind = (
        engine.feed_pressure_full + loss + inlet
        for loss, inlet in zip(lost, (low, suction.value, high), strict=True)
    )
    return Figure(drawn, "pressure", min(kind, drawn), max(unkind, drawn))


def _lacks_feed_pressure(what: str, engine: Engine) -> NotComputed:
    reason = f"engines.{engine.name}.feed-pressure-full is not stated"
    return NotComputed(f"{what} by {engine.name}", reason, engine.name, asked=False)


def _curve(pump: Pump) -> tuple[Array, Array] | NotComputed:
    """Flows and pressures of a pump's curve, flows rising."""
    if len(pump.curve) < 2:
        reason = f"pumps.{pump.name}.curve does not state two points"
        return NotComputed(f"what {pump.name} delivers", reason, pump.name, asked=False)
    points = sorted(pump.curve, key=lambda point: point.flow)
    return np.array([p.flow for p in points]), np.array([p.pressure for p in points])


def _on_curve(pump: Pump, engine: Engine) -> float | NotComputed:
    curve = _curve(pump)
    if isinstance(curve, NotComputed):
        return curve
    return float(np.interp(engine.full_flow or 0.0, *curve))


def _reached(
    pump: Pump, engine: Engine, drawn: _Solved, node: int, suction: Figure
) -> float | NotComputed:
    """Flow at which the pump's curve meets what the system needs [m3/s].

    The engine's own need grows with the square of the flow from what it is at idle.
    """
    curve = _curve(pump)
    if isinstance(curve, NotComputed):
        return curve
    if engine.feed_pressure_full is None or engine.full_flow is None:
        return _lacks_feed_pressure("flow reached", engine)
    flows = _FLOWS * engine.full_flow
    lost = -drawn.solution.pressure[_CASES:, node]
    need = _entry_pressure(engine, _FLOWS) + lost + suction.value * _FLOWS
    spare = np.interp(flows, *curve, right=0.0) - need
    short = np.flatnonzero(spare < 0.0)
    if not short.size:
        return float(flows[-1])
    first = int(short[0])
    if first == 0:
        return 0.0
    part = spare[first - 1] / (spare[first - 1] - spare[first])
    return float(flows[first - 1] + part * (flows[first] - flows[first - 1]))


def _entry_pressure(engine: Engine, shares: Array) -> Array:
    """Gauge pressure at which the engine takes shares of its full flow [Pa].

    It is what the file says at idle and at full flow; between and beyond it grows with the square
    of the flow, as through an orifice behind a chamber.
    """
    full, idle = engine.feed_pressure_full or 0.0, engine.feed_pressure_idle
    lowest = (engine.idle_flow or 0.0) / (engine.full_flow or np.inf)
    if idle is None or lowest >= 1.0:
        return full * shares**2
    return idle + (full - idle) * (shares**2 - lowest**2) / (1.0 - lowest**2)
