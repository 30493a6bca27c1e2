"""How fast networks are solved; never asserted. One core: set OMP_NUM_THREADS=1 to compare."""

import numpy as np
import pytest

from plumbing.hydraulics.circuit import BoreChanges, Circuit, Filters, Fittings, Tubes
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.solver import solve

RNG = np.random.default_rng(11)
SCENARIOS = 1000
BARB, BORE = 3e-3, 4e-3


def chained_pair(teed=False):
    """Two chained tanks, header, pump and vent: 4 branches, 25 elements; or the pair teed."""
    nodes = ("outside", "far", "near", "header", "pump", *(("tee",) if teed else ()))
    ends = [(0, 1), (1, 2), (2, 3), (3, 4)] if not teed else [(0, 1), (1, 5), (2, 5), (5, 3)]
    ends += [(3, 4), (0, 2)] if teed else []
    line = ["step", "barb", "step back", "tube", "elbow", "step", "barb", "step back"]
    rows = [(branch, what) for branch in range(len(ends)) for what in line]
    rows = [row for row in rows if row[0] or row[1] in ("tube", "elbow")][:25]
    owner = np.array([branch for branch, _ in rows])

    def places(*names):
        return np.array([place for place, (_, what) in enumerate(rows) if what in names])

    tubes, elbows, steps = places("tube", "barb"), places("elbow"), places("step", "step back")
    wide = np.array([rows[place][1] == "tube" for place in tubes])
    out = np.array([rows[place][1] == "step" for place in steps])
    return Circuit(
        nodes=nodes,
        fixed=np.array([name == "outside" for name in nodes]),
        mixing=np.array([name in ("pump", "tee") for name in nodes]),
        branches=tuple(f"line {number}" for number in range(len(ends))),
        start=np.array([pair[0] for pair in ends]),
        end=np.array([pair[1] for pair in ends]),
        points=np.cumsum(RNG.uniform(-0.1, 0.3, (len(ends), 2, 3)), axis=0),
        elements=tuple(what for _, what in rows),
        element_branch=owner,
        tubes=Tubes(
            element=tubes,
            length=np.where(wide, 0.4, 0.012),
            bore=np.where(wide, BORE, BARB),
            roughness=np.full(len(tubes), 1.5e-6),
            entry=np.full(len(tubes), 1.28),
            bend_length=np.zeros(len(tubes)),
            coil=np.ones(len(tubes)),
        ),
        fittings=Fittings(
            elbows, *np.array([[800.0], [0.2], [2.9], [BORE]]) * np.ones(len(elbows))
        ),
        bore_changes=BoreChanges(steps, np.where(out, BORE, BARB), np.where(out, BARB, BORE)),
        filters=Filters(),
    )


def varied(circuit):
    """Batches of scenarios that differ in flow, temperature and attitude."""
    demand = np.zeros((SCENARIOS, len(circuit.nodes)))
    demand[:, circuit.nodes.index("pump")] = RNG.uniform(1e-6, 1.2e-5, SCENARIOS)
    pitch = RNG.uniform(-0.5, 0.5, SCENARIOS)
    down = np.stack([np.sin(pitch), 0.0 * pitch, -np.cos(pitch)], axis=1)
    tank = ~(circuit.fixed | circuit.mixing)[np.stack([circuit.start, circuit.end], axis=-1)]
    return Conditions.of(
        circuit,
        gravity=9.80665 * down,
        liquid_density=RNG.uniform(775.0, 840.0, SCENARIOS),
        liquid_viscosity=RNG.uniform(1e-3, 6e-3, SCENARIOS),
        demand=demand,
        head=np.where(tank, RNG.uniform(0.0, 500.0, (SCENARIOS, *tank.shape)), 0.0),
    )


@pytest.mark.parametrize("teed", [False, True])
def test_a_thousand_scenarios_of_a_pair_of_tanks(benchmark, teed):
    """4 branches without a loop, or 6 with loops; 1 000 scenarios a call."""
    circuit = chained_pair(teed)
    batches = [varied(circuit) for _ in range(8)]
    turn = iter(range(10**9))
    solution = benchmark(lambda: solve(circuit, batches[next(turn) % len(batches)]))
    assert solution.converged.all()


def grid(branches):
    """A square mesh of tubes with about so many branches."""
    side = int(np.sqrt(branches / 2)) + 1
    node = np.arange(side * side).reshape(side, side)
    start = np.concatenate([node[:, :-1].ravel(), node[:-1].ravel()])
    end = np.concatenate([node[:, 1:].ravel(), node[1:].ravel()])
    count = len(start)
    fixed = np.zeros(side * side, dtype=bool)
    fixed[0] = True
    return Circuit(
        nodes=tuple(f"node {number}" for number in range(side * side)),
        fixed=fixed,
        mixing=~fixed,
        branches=tuple(f"branch {number}" for number in range(count)),
        start=start,
        end=end,
        points=np.zeros((count, 2, 3)),
        elements=tuple(f"tube {number}" for number in range(count)),
        element_branch=np.arange(count),
        tubes=Tubes(
            np.arange(count),
            RNG.uniform(0.1, 1.0, count),
            RNG.uniform(3e-3, 6e-3, count),
            *np.zeros((3, count)),
            np.ones(count),
        ),
    )


@pytest.mark.parametrize("branches", [100, 1000, 10_000])
def test_one_scenario_of_a_large_mesh(benchmark, branches):
    """100 to 10 000 branches with flow drawn at every node."""
    circuit = grid(branches)
    demand = np.where(circuit.fixed, 0.0, RNG.uniform(0.0, 1e-7, len(circuit.nodes)))
    conditions = Conditions.of(circuit, demand=demand, share=1.0)
    assert benchmark(solve, circuit, conditions).converged.all()
