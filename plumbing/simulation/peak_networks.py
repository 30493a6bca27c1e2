"""The networks of peak flow: as drawn, and at both ends of its tolerances, solved in all cases."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from plumbing.errors import SolveError
from plumbing.frozen import frozen
from plumbing.hydraulics.breakdown import Breakdown, breakdown
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.layout_circuit import Plumbed
from plumbing.hydraulics.solver import Solution, solve
from plumbing.model.layout import Layout
from plumbing.network import Role, Survey
from plumbing.physics.arrays import Array, Indices
from plumbing.simulation.demand import demands
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.peak_cases import PeakCases
from plumbing.simulation.setup import closed_while, set_up
from plumbing.simulation.starving import drawn
from plumbing.simulation.tankage import Tankage

KIND, DRAWN, UNKIND = 0, 1, 2  # places of the three networks


@frozen(eq=False)
class Solved:
    """One of the three networks, solved in all S cases."""

    feeding: Feeding
    conditions: Conditions
    solution: Solution
    parts: Breakdown


@frozen(eq=False)
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

    def share_had(self, demand: int, case: int) -> float:
        """Share of its full flow that a demand can have in one case as drawn [-]."""
        one = self.drawn.conditions.rows(np.array([case]))
        plumbed = self.drawn.feeding.plumbed
        wanted = float(one.demand[0, plumbed.demand_node[demand]])
        return float(drawn(plumbed, one).flow[0, demand]) / wanted if wanted > 0.0 else 1.0


def suction_side(layout: Layout, survey: Survey, cases: PeakCases) -> Suction:
    """Solve the three networks.

    Raises
    ------
    SolveError
        Nothing draws fuel from a tank.
    """
    kind, drawn, unkind = (solved_network(layout, survey, cases, side) for side in (-1, 0, 1))
    return Suction(cases, (kind, drawn, unkind))


def solved_network(layout: Layout, survey: Survey, cases: PeakCases, side: int = 0) -> Solved:
    """Solve one network: side -1 kind, 0 as drawn, +1 unkind.

    Raises
    ------
    SolveError
        Nothing draws fuel from a tank.
    """
    feeding = set_up(
        layout,
        survey,
        cases.gravity,
        closed=closed_while(layout, "flight"),
        celsius=cases.celsius,
        side=side,
        centres=False,
    )
    plumbed = feeding.plumbed
    if not plumbed.demands:
        raise SolveError("no open line joins a tank to a pump")
    feeding = replace(
        feeding,
        flow=demands(layout, survey, plumbed, np.ones(len(cases.celsius)))[None],
        dirt=np.where(cases.dirty[:, None], plumbed.dirty, 1.0),
    )
    rows = np.arange(len(cases.celsius))
    volume = lowest_usable(layout, survey, feeding.tanks, feeding.index)
    conditions = feeding.conditions(rows, rows, volume)
    solution = solve(plumbed.circuit, conditions)
    return Solved(feeding, conditions, solution, breakdown(plumbed.circuit, conditions, solution))


def lowest_usable(layout: Layout, survey: Survey, tanks: Tankage, index: Indices) -> Array:
    """Fuel as it lies with the feeds just covered, headers filled, shape (S, C) [m3]."""
    feeds = {use.upstream for use in survey.lines.values() if use.role is Role.SUCTION}
    columns = []
    for vessel in tanks.vessels:
        tank = layout.tanks[vessel.name]
        filled = np.full((len(index), 1), tank.fill * vessel.capacity)
        covered = [
            vessel.low[port][1][index] for port in tank.ports if f"{tank.name}.{port}" in feeds
        ]
        usual = covered and tank.role != "header"
        low = np.max(covered, axis=0) if usual else tanks.lying_in(vessel, filled[:, 0], index)
        columns.append(np.minimum(low, vessel.capacity))
    return np.concatenate(columns, axis=1)


def demand_of(survey: Survey, plumbed: Plumbed, engine: str) -> int:
    """Place of the first pump (or the engine itself) among the circuit's demands."""
    wanted = (*survey.feeds[engine].pumps, engine)
    return next(plumbed.demands.index(name) for name in wanted if name in plumbed.demands)
