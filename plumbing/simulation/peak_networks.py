"""The networks of peak flow: as drawn, and at both ends of its tolerances, solved in all cases."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from plumbing.hydraulics.along import Reference
from plumbing.hydraulics.breakdown import Breakdown, breakdown
from plumbing.hydraulics.compile import compile_suction
from plumbing.hydraulics.plumbed import Plumbed
from plumbing.hydraulics.solution import Solution
from plumbing.hydraulics.solver import solve
from plumbing.model.layout import Layout
from plumbing.network import Role, Survey
from plumbing.physics.arrays import Array, Indices
from plumbing.simulation.demand import demands
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.fluid import Fluids, fluids_at
from plumbing.simulation.peak_cases import PeakCases
from plumbing.simulation.state import tank_ends
from plumbing.simulation.tankage import Tankage, distinct_directions, tankage

KIND, DRAWN, UNKIND = 0, 1, 2  # places of the three networks


@dataclass(frozen=True, slots=True, eq=False)
class Solved:
    """One of the three networks, solved in all S cases."""

    feeding: Feeding
    solution: Solution
    parts: Breakdown


@dataclass(frozen=True, slots=True, eq=False)
class Suction:
    """The suction side: cases and the three networks."""

    cases: PeakCases
    networks: tuple[Solved, Solved, Solved]

    @property
    def drawn(self) -> Solved:
        """The network as drawn."""
        return self.networks[DRAWN]

    def inlet(self, demand: int) -> Array:
        """Suction at a demand in the three networks, shape (3, S) [Pa]."""
        node = self.drawn.feeding.plumbed.demand_node[demand]
        return np.stack([-one.solution.pressure[:, node] for one in self.networks])


def suction_side(layout: Layout, survey: Survey, cases: PeakCases) -> Suction | None:
    """Solve the three networks; None where nothing is joined."""
    found = [solved_network(layout, survey, cases, side) for side in (-1, 0, 1)]
    kind, drawn, unkind = found
    if kind is None or drawn is None or unkind is None:
        return None
    return Suction(cases, (kind, drawn, unkind))


def solved_network(
    layout: Layout, survey: Survey, cases: PeakCases, side: int = 0
) -> Solved | None:
    """Solve one network: side -1 kind, 0 as drawn, +1 unkind; None where nothing is joined."""
    tolerances = layout.tolerances
    factor = 1.0 + side * tolerances.viscosity
    usual = fluids_at(layout, np.array([layout.fuel.temperature.usual]))
    full = sum(engine.full_flow or 0.0 for engine in layout.engines.values())
    reference = Reference(full, float(usual.liquid_viscosity[0]), -side * tolerances.bore)
    plumbed = compile_suction(layout, survey, reference)
    if plumbed is None or not plumbed.demands:
        return None
    fluids = fluids_at(layout, cases.celsius, factor)
    feeding = _feeding(layout, survey, plumbed, cases, fluids, 0.5 * (1 + side))
    rows = np.arange(len(cases.celsius))
    volume = lowest_usable(layout, survey, feeding.tanks, feeding.index)
    conditions = feeding.conditions(rows, rows, volume)
    solution = solve(plumbed.circuit, conditions)
    return Solved(feeding, solution, breakdown(plumbed.circuit, conditions, solution))


def _feeding(
    layout: Layout,
    survey: Survey,
    plumbed: Plumbed,
    cases: PeakCases,
    fluids: Fluids,
    band: float,
) -> Feeding:
    down, index = distinct_directions(cases.gravity)
    count = len(cases.celsius)
    closed = frozenset(n for n, valve in layout.valves.items() if valve.flight == "closed")
    return Feeding(
        ends=tank_ends(plumbed, tankage(layout, down, moments=False)),
        gravity=cases.gravity,
        index=index,
        flow=demands(layout, survey, plumbed, np.ones(count))[None],
        fluids=fluids,
        outside=np.zeros((1, count, len(plumbed.circuit.nodes))),
        blocked=plumbed.blocked(closed)[None],
        multiplier=np.ones((1, len(plumbed.circuit.branches))),
        dirt=np.where(cases.dirty[:, None], plumbed.dirty, 1.0),
        band=band,
    )


def lowest_usable(layout: Layout, survey: Survey, tanks: Tankage, index: Indices) -> Array:
    """Fuel in each tank with its feed just covered, headers filled, shape (S, T) [m3]."""
    feeds = {use.upstream for use in survey.lines.values() if use.role is Role.SUCTION}
    columns = []
    for vessel in tanks.vessels:
        tank = layout.tanks[vessel.name]
        filled = np.full(len(index), tank.fill * vessel.capacity)
        covered = [
            vessel.covered[port][index] for port in tank.ports if f"{tank.name}.{port}" in feeds
        ]
        low = np.max(covered, axis=0) if covered and tank.role != "header" else filled
        columns.append(np.minimum(low, vessel.capacity))
    return np.stack(columns, axis=1)


def demand_of(survey: Survey, plumbed: Plumbed, engine: str) -> int:
    """Place of the first pump (or the engine itself) among the circuit's demands."""
    wanted = (*survey.feeds[engine].pumps, engine)
    return next(plumbed.demands.index(name) for name in wanted if name in plumbed.demands)
