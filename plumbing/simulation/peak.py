"""Peak flow: all engines at full flow, over temperatures, load factors and states of the filters.

Mains are taken at their lowest usable level (the surface just covers the pickup), headers full.
Three networks are solved: as drawn, and with every bore, viscosity and loss coefficient at the
kind and the unkind end of its tolerance, which gives the band.
"""

from __future__ import annotations

import numpy as np

from plumbing.errors import SolveError
from plumbing.findings import Figure
from plumbing.model.layout import Layout
from plumbing.network import Role, Survey
from plumbing.physics.arrays import Array, Indices
from plumbing.physics.constants import ATMOSPHERE
from plumbing.physics.dissolved_air import ostwald, void_fraction
from plumbing.results import NotComputed, Results
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.fluid import blend_of
from plumbing.simulation.peak_cases import CLEAN, DIRTY, PeakCases, peak_cases
from plumbing.simulation.peak_delivery import delivery
from plumbing.simulation.peak_networks import DRAWN, KIND, UNKIND, Suction, demand_of, suction_side
from plumbing.simulation.peak_path import drops_of_parts, suction_path
from plumbing.simulation.peak_result import EnginePeak, Peak, Worst

OSTWALD_BAND = 0.1  # uncertainty of the solubility of air in kerosene


def peak_flow(layout: Layout, survey: Survey) -> Peak:
    """Solve every engine at full flow.

    Parameters
    ----------
    layout : Layout
        The layout.
    survey : Survey
        Its survey.

    Returns
    -------
    Peak
        Every engine, or why it could not be solved.
    """
    cases = peak_cases(layout.aircraft, layout.fuel.temperature)
    sweep_at = cases.where(0)[1:]
    unfed = {name: _unfed(layout, survey, name) for name in layout.engines}
    suction: Suction | str = "no engine can be fed"
    if not all(unfed.values()):
        try:
            suction = suction_side(layout, survey, cases)
        except SolveError as wrong:
            suction = str(wrong)
    engines: dict[str, EnginePeak | NotComputed] = {}
    sweep: dict[str, Array] = {}
    for name, why in unfed.items():
        if not why:
            why = suction if isinstance(suction, str) else _unsolved(suction)
        if why or isinstance(suction, str):
            engines[name] = NotComputed(f"peak flow of {name}", why, name)
            continue
        engines[name] = _engine(layout, survey, suction, name)
        sweep[name] = suction.inlet(demand_of(survey, suction.drawn.feeding.plumbed, name))[
            DRAWN, sweep_at
        ]
    nothing = NotComputed("peak flow", "the layout has no engine", asked=False)
    return Peak(Results(engines, nothing), cases.celsius[sweep_at], sweep)


def _unfed(layout: Layout, survey: Survey, engine: str) -> str:
    """Why an engine cannot be solved for, from the graph alone."""
    feed = survey.feeds[engine]
    if feed.path is None:
        barred = ", ".join(feed.barred_by)
        return f"no fuel can reach {engine}" + (f": {barred} bars the way" if barred else "")
    if not layout.engines[engine].full_flow:
        return f"engines.{engine} states neither full-flow nor thrust"
    return ""


def _unsolved(suction: Suction) -> str:
    """Why the solver found no steady state in one of the cases, or nothing."""
    for solved in suction.networks:
        solution = solved.solution
        bad = np.flatnonzero(~solution.converged)
        if bad.size:
            return solution.why(int(bad[0]))
    return ""


def _engine(layout: Layout, survey: Survey, suction: Suction, name: str) -> EnginePeak:
    solved, cases = suction.drawn, suction.cases
    plumbed = solved.feeding.plumbed
    demand = demand_of(survey, plumbed, name)
    inlet = suction.inlet(demand)
    usual = int(cases.where(0)[0])
    worst = tuple(
        _at_worst(inlet, among)
        for among in (cases.where(0), cases.where(), cases.where(0, dirty=True))
    )
    coldest, loaded, dirty = (_worst(cases, inlet, at) for at in worst)
    hardest, full = int(np.argmax(inlet[DRAWN])), layout.engines[name].full_flow or 0.0
    path = suction_path(plumbed, solved.solution, solved.parts, usual, demand)
    bands = (suction.networks[KIND].parts, suction.networks[UNKIND].parts)
    delivered = delivery(layout, survey, name, dirty.suction)
    pickups, filters = drops_of_parts(layout, plumbed, solved.parts, usual, _dirty_of(cases))
    header = survey.feeds[name].header
    return EnginePeak(
        engine=name,
        pump=plumbed.demands[demand],
        flow=full,
        suction=_figure(inlet[:, usual]),
        coldest=coldest,
        loaded=loaded,
        dirty=dirty,
        hardest=_worst(cases, inlet, hardest),
        flow_had=full * suction.share_had(demand, hardest),
        elements=path.elements(solved.parts, bands, usual, worst),
        released=_released(layout, inlet[:, usual]),
        pump_height=_pump_height(layout, survey, solved.feeding, name, demand),
        header=header,
        header_seconds=_header_seconds(layout, survey, solved.feeding, header),
        tank_pressures=_tank_pressures(suction, usual),
        pickup_drops=pickups,
        filter_drops=Results({**filters, **delivered.filter_drops}),
        delivery=delivered.elements,
        head_needed=delivered.head_needed,
        head_available=delivered.head_available,
        flow_available=delivered.flow_available,
    )


def _dirty_of(cases: PeakCases) -> int:
    """Case at 1 g and the usual temperature with dirty filters."""
    return int(cases.where(0, dirty=True)[0])


def _figure(values: Array, kind: str = "pressure") -> Figure:
    """Value as drawn with the band of the three networks."""
    kindest, drawn, unkind = (float(value) for value in values)
    return Figure(drawn, kind, min(kindest, drawn), max(unkind, drawn))


def _at_worst(inlet: Array, among: Indices) -> int:
    """Case among these with the largest suction as drawn."""
    return int(among[np.argmax(inlet[DRAWN, among])])


def _worst(cases: PeakCases, inlet: Array, at: int) -> Worst:
    return Worst(
        suction=_figure(inlet[:, at]),
        celsius=float(cases.celsius[at]),
        load=cases.loads[cases.load[at]],
        filters=DIRTY if cases.dirty[at] else CLEAN,
    )


def _released(layout: Layout, suction: Array) -> Figure:
    """Void share of air set free at the inlet, with the band of suction and solubility."""
    celsius = layout.fuel.temperature.usual
    solubility = float(ostwald(celsius, blend_of(layout).density_15))
    factors = np.array([1.0 - OSTWALD_BAND, 1.0, 1.0 + OSTWALD_BAND])
    pressure = np.clip(ATMOSPHERE - suction, 1.0, ATMOSPHERE)
    return _figure(void_fraction(solubility * factors, ATMOSPHERE, pressure), "share")


def _pump_height(
    layout: Layout, survey: Survey, feeding: Feeding, engine: str, demand: int
) -> float:
    """Pump inlet over the lowest usable level of the last tank at 1 g level [m]."""
    place = feeding.tanks.names.index(survey.feeds[engine].last_tank)
    vessel = feeding.tanks.vessels[place]
    feeds = {use.upstream for use in survey.lines.values() if use.role is Role.SUCTION}
    direction = int(feeding.index[0])
    levels = [
        float(opening.covered[direction])
        for port, opening in vessel.openings.items()
        if f"{vessel.name}.{port}" in feeds
    ]
    lowest = max(levels, default=float(vessel.cut.bottom[direction]))
    return _inlet_height(layout, feeding.plumbed.demands[demand]) - lowest


def _inlet_height(layout: Layout, name: str) -> float:
    part = layout.pumps.get(name) or layout.engines[name]
    return part.at[2]


def _header_seconds(layout: Layout, survey: Survey, feeding: Feeding, header: str) -> float:
    """Time the header lasts at the full flow of all engines it feeds [s]."""
    if not header:
        return 0.0
    vessel = feeding.tanks.vessels[feeding.tanks.names.index(header)]
    fed = [name for name, feed in survey.feeds.items() if feed.header == header]
    flow = sum(layout.engines[name].full_flow or 0.0 for name in fed)
    return vessel.capacity * layout.tanks[header].fill / flow if flow else 0.0


def _tank_pressures(suction: Suction, usual: int) -> dict[str, Figure]:
    """Gas pressure of each tank at 1 g; the low end is the worst under any load."""
    plumbed = suction.drawn.feeding.plumbed
    clean = suction.cases.where()
    found = {}
    for name, node in zip(plumbed.tanks, plumbed.tank_node, strict=True):
        if node >= 0:
            pressures = suction.drawn.solution.pressure[:, node]
            worst, unkind = (
                float(one.solution.pressure[clean, node].min())
                for one in (suction.drawn, suction.networks[UNKIND])
            )
            found[name] = Figure(
                float(pressures[usual]), "pressure", min(worst, unkind), float(pressures[usual])
            )
    return found
