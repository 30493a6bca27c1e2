"""Lines partly filled, in which nothing moves: communicating vessels, and networks at random."""

import numpy as np
import pytest

from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.problem import reach
from plumbing.hydraulics.solver import PRESSURE, solve

from .networks import JUNCTION, OUTSIDE, TANK, circuit, random_circuit, random_conditions
from .test_random import residuals

DENSITY, GRAVITY, SURFACE = 800.0, 9.80665, 0.1  # the surface lies 0.1 m above the low port
BREEZE = 10.0  # [Pa] at the lower end of a vent


def sight_tube(low, high, resting):
    """A tube in three lengths from the foot of a vented tank to its top, 0.2 m above.

    Its two joints lie at heights `low` and `high` above the foot [m].
    """
    network = circuit(
        {"outside": OUTSIDE, "tank": TANK, "first": JUNCTION, "second": JUNCTION},
        {
            "vent": ("outside", "tank", [[0.0, 0.0, 0.2], [0.0, 0.0, 0.2]]),
            "a": ("tank", "first", [[0.0, 0.0, 0.0], [0.1, 0.0, low]]),
            "b": ("first", "second", [[0.1, 0.0, low], [0.1, 0.0, high]]),
            "c": ("second", "tank", [[0.1, 0.0, high], [0.0, 0.0, 0.2]]),
        },
        tubes={name: [(0.2, 4e-3)] for name in ("vent", "a", "b", "c")},
    )
    return network, Conditions.of(
        network,
        gravity=[0.0, 0.0, -GRAVITY],
        liquid_density=DENSITY,
        share=[[0.0, 0.0], [1.0, 1.0], [1.0, 1.0], [0.0, 0.0]],
        head=[[0.0, 0.0], [DENSITY * GRAVITY * SURFACE, 0.0], [0.0, 0.0], [0.0, 0.0]],
        resting=[0.0, 0.0, *resting],
    )


@pytest.mark.parametrize("resting", [(1, 1), (0, 0), (0, 1), (1, 0), (0.5, 0.5)])
@pytest.mark.parametrize(
    ("low", "high"),
    [(0.05, 0.15), (-0.05, 0.25), (0.15, 0.05), (0.05, 0.08), (0.12, 0.18), (0.3, -0.1)],
)
def test_a_sight_tube_stands_still_whatever_it_held_before(low, high, resting):
    """Communicating vessels, also where the tube dips below the foot and rises over the top.

    In every length the pressures differ by what a column of some liquid and some air stands up to.
    """
    network, conditions = sight_tube(low, high, resting)
    solution = solve(network, conditions)
    assert solution.converged[0]
    assert np.abs(solution.flow).max() == 0.0
    rise = network.points[:, 1, 2] - network.points[:, 0, 2]
    at = solution.pressure[0]
    head = conditions.head[0]
    across = at[network.start] + head[:, 0] - at[network.end] - head[:, 1]
    heavy, light = DENSITY * GRAVITY * rise, float(conditions.gas_density[0]) * GRAVITY * rise
    assert (across >= np.minimum(heavy, light) - PRESSURE).all()
    assert (across <= np.maximum(heavy, light) + PRESSURE).all()


def test_small_networks_of_air_and_liquid_are_all_solved():
    """6 000 scenarios of three to five nodes in rings, with ports dry at random, under any load."""
    solved = 0
    for seed in (*range(50), 241, 295, 308, 345, 356, 505, 508, 581, 590, 592):
        rng = np.random.default_rng(seed)
        nodes, extra = int(rng.integers(3, 6)), int(rng.integers(1, 4))
        network = random_circuit(rng, nodes, extra, int(rng.integers(1, 3)))
        conditions = random_conditions(rng, network, 100, shut=0.0, threshold=0.0)
        possible = reach(network, conditions).supplied | (conditions.demand == 0.0)
        assert possible.all()
        solution = solve(network, conditions)
        assert solution.converged.all()
        assert residuals(network, conditions, solution)[1].max() <= PRESSURE
        solved += len(solution.converged)
    assert solved == 6000


def vented(shut):
    """A tank full of fuel: an air hole on top, and a vent 0.2 m down to a breeze.

    The hole may be shut, by more than the 500 Pa that press on it then. A pump draws beside it.
    """
    network = circuit(
        {"above": OUTSIDE, "below": OUTSIDE, "tank": TANK, "pump": JUNCTION},
        {
            "hole": ("above", "tank", [[0.0, 0.0, 0.1], [0.0, 0.0, 0.1]]),
            "vent": ("tank", "below", [[0.0, 0.0, 0.1], [0.0, 0.0, -0.1]]),
            "feed": ("above", "pump", [[0.1, 0.0, 0.1], [0.2, 0.0, 0.1]]),
            "other feed": ("above", "pump", [[0.1, 0.0, 0.1], [0.2, 0.0, 0.1]]),
        },
        tubes={name: [(0.4, 4e-3)] for name in ("hole", "vent", "feed", "other feed")},
    )
    return network, Conditions.of(
        network,
        gravity=[0.0, 0.0, -GRAVITY],
        liquid_density=DENSITY,
        fixed_pressure=[500.0 if shut else 0.0, BREEZE, 0.0, 0.0],
        demand=[0.0, 0.0, 0.0, 5e-6],
        share=[[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [1.0, 1.0]],
        threshold=[[1e4, 1e4] if shut else [0.0, 0.0], *np.zeros((3, 2))],
    )


def test_a_vent_never_filled_holds_air_and_leaves_the_tank_at_ambient_pressure():
    """Nothing flows past the shut hole: the column of air in the vent weighs 2.4 Pa, by hand."""
    network, conditions = vented(shut=True)
    solution = solve(network, conditions)
    air = float(conditions.gas_density[0]) * GRAVITY * 0.2
    assert solution.converged[0]
    assert solution.flow[0, :2].tolist() == [0.0, 0.0]
    assert solution.pressure[0, 2] == pytest.approx(BREEZE - air, abs=0.01)


def test_a_vent_that_ran_goes_on_and_one_that_rested_lets_the_breeze_in():
    """Full of fuel it pulls 1569 Pa against a breeze of 10, full of air 2.4: the past decides."""
    network, conditions = vented(shut=False)
    flows = [
        solve(network, conditions, before * np.array([1.0, 1.0, 0.0, 0.0])).flow[0, 1]
        for before in (1e-5, 0.0, -1e-5)
    ]
    assert flows[0] > 0.0
    assert flows[1] < 0.0
    assert flows[2] == pytest.approx(flows[1], rel=1e-6)
