"""What always holds: trees are direct, halves make wholes, drawing direction is only a sign."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plumbing.hydraulics import sparse
from plumbing.hydraulics.breakdown import breakdown
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.problem import Problem
from plumbing.hydraulics.solver import solve, solve_tree, steady
from plumbing.hydraulics.topology import topology

from .networks import JUNCTION, OUTSIDE, TANK, circuit, random_circuit, random_conditions


def liquid(conditions):
    """The same with liquid everywhere."""
    full = np.ones_like(conditions.share)
    return replace(conditions, share=full, resting=np.ones_like(conditions.resting))


def tree(seed, scenarios=5):
    """A random circuit without loops, one outside opening, filled with liquid."""
    rng = np.random.default_rng(seed)
    network = random_circuit(rng, int(rng.integers(2, 10)), extra=0, outside=1)
    return network, liquid(random_conditions(rng, network, scenarios, shut=0.0, threshold=0.0))


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 10**6))
def test_a_tree_needs_one_solve_and_agrees_with_the_iteration(seed):
    """Flows are sums of demands, exact; Newton's method finds the same pressures."""
    network, conditions = tree(seed)
    assert topology(network).paths is not None
    solution = solve(network, conditions)
    assert solution.iterations == 1
    assert solution.converged.all()
    assert solution.volume_residual.max() < 1e-14
    demand = np.broadcast_to(conditions.demand, solution.pressure.shape)
    problem = Problem.of(network, conditions, demand)
    other = steady(problem, None)
    np.testing.assert_allclose(other.pressure.T, solution.pressure, atol=0.02)
    np.testing.assert_array_equal(solve_tree(problem).flow.T, solution.flow)


def turned(network, conditions, which):
    """The same with some branches drawn the other way round, for branches of plain tube."""

    def swap(array):
        flipped = array.copy()
        flipped[:, which] = array[:, which, ::-1]
        return flipped

    points = network.points.copy()
    points[which] = points[which, ::-1]
    other = replace(
        network,
        start=np.where(which, network.end, network.start),
        end=np.where(which, network.start, network.end),
        points=points,
        bore_changes=replace(
            network.bore_changes,
            before=np.where(
                which[network.element_branch[network.bore_changes.element]],
                network.bore_changes.after,
                network.bore_changes.before,
            ),
            after=np.where(
                which[network.element_branch[network.bore_changes.element]],
                network.bore_changes.before,
                network.bore_changes.after,
            ),
        ),
    )
    names = ("head", "share", "threshold", "blocked")
    return other, replace(conditions, **{name: swap(getattr(conditions, name)) for name in names})


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 10**6))
def test_drawing_a_branch_the_other_way_round_flips_only_its_sign(seed):
    """Pressures stay, flows of the turned branches change sign; valves and pickups included."""
    rng = np.random.default_rng(seed)
    network = random_circuit(rng, 7, 3, 2)
    conditions = liquid(random_conditions(rng, network, 4, shut=0.0, threshold=0.2))
    which = rng.random(len(network.branches)) < 0.5
    one, other = solve(network, conditions), solve(*turned(network, conditions, which))
    assert one.converged.all()
    assert other.converged.all()
    sign = np.where(which, -1.0, 1.0)
    scale = np.abs(one.flow).max(axis=1, keepdims=True) + 1e-9
    np.testing.assert_allclose(other.flow * sign / scale, one.flow / scale, atol=1e-4)


def test_two_halves_in_series_make_the_whole():
    """A tube cut in two at a junction carries what the whole tube carries."""
    ends = [[0, 0, 0], [0.6, 0, -0.2]]
    middle = [0.3, 0, -0.1]
    whole = circuit(
        {"a": OUTSIDE, "b": OUTSIDE}, {"line": ("a", "b", ends)}, tubes={"line": [(0.8, 3e-3)]}
    )
    halves = circuit(
        {"a": OUTSIDE, "m": JUNCTION, "b": OUTSIDE},
        {"1": ("a", "m", [ends[0], middle]), "2": ("m", "b", [middle, ends[1]])},
        tubes={"1": [(0.4, 3e-3)], "2": [(0.4, 3e-3)]},
    )
    one = solve(whole, Conditions.of(whole, share=1.0, fixed_pressure=[500.0, 0.0]))
    two = solve(halves, Conditions.of(halves, share=1.0, fixed_pressure=[500.0, 0.0, 0.0]))
    np.testing.assert_allclose(two.flow[0], one.flow[0, 0], rtol=1e-9)


def test_liquid_balances_at_junctions_as_exactly_as_volume():
    """What liquid flows into a mixing node flows out of it, to 1e-9 of the largest flow."""
    for seed in range(20):
        rng = np.random.default_rng(seed)
        network = random_circuit(rng, 9, 4, 2)
        conditions = random_conditions(rng, network, 20)
        solution = solve(network, conditions)
        carried = solution.flow * solution.share
        net = np.zeros(solution.pressure.shape)
        np.add.at(net.T, network.end, carried.T)
        np.subtract.at(net.T, network.start, carried.T)
        net -= conditions.demand * solution.node_share
        largest = np.maximum(np.abs(solution.flow).max(axis=1, keepdims=True), 1e-9)
        good = solution.converged
        assert (np.abs(net[good][:, network.mixing]) <= 2e-9 * largest[good]).all()


def test_sparse_and_dense_agree(monkeypatch):
    """The way for large circuits gives the flows of the way for small ones."""
    rng = np.random.default_rng(3)
    network = random_circuit(rng, 12, 6, 2)
    conditions = random_conditions(rng, network, 10, gas=True, shut=0.05, threshold=0.1)
    dense = solve(network, conditions)
    monkeypatch.setattr(sparse, "LARGE", 1)
    other = solve(replace(network), conditions)
    both = dense.converged & other.converged
    assert both.sum() >= 8
    assert (dense.starved == other.starved)[both].all()
    scale = np.abs(dense.flow).max(axis=1, keepdims=True) + 1e-9
    np.testing.assert_allclose((other.flow / scale)[both], (dense.flow / scale)[both], atol=1e-4)


@pytest.mark.outside("Hagen-Poiseuille and hydrostatics, by hand", quantity="share of the drops")
def test_the_breakdown_adds_up_to_the_difference_in_pressure():
    """Drops of a branch, less what standing fluid adds, make the difference of its ends."""
    rng = np.random.default_rng(8)
    network = random_circuit(rng, 8, 4, 2)
    conditions = random_conditions(rng, network, 10, shut=0.0, threshold=0.0)
    solution = solve(network, conditions)
    parts = breakdown(network, conditions, solution)
    total = np.zeros(solution.flow.shape)
    np.add.at(total.T, network.element_branch, parts.drop.T)
    across = solution.pressure[:, network.start] - solution.pressure[:, network.end]
    moving = (solution.flow != 0.0) & solution.converged[:, None]
    missed = np.sign(solution.flow) * total - parts.static - across
    assert np.abs(missed[moving]).max() < 0.02
    share = np.zeros(solution.flow.shape)
    np.add.at(share.T, network.element_branch, parts.share.T)
    np.testing.assert_allclose(share[moving], 1.0)


def test_the_breakdown_gives_velocity_and_reynolds_number_in_the_narrowest_bore():
    """160 ml/min in 4 mm: 0.2122 m/s and Re 566 at 1.5 mm2/s; a step counts its smaller bore."""
    network = circuit(
        {"out": OUTSIDE, "tank": TANK, "pump": JUNCTION},
        {"vent": ("out", "tank"), "feed": ("tank", "pump")},
        tubes={"vent": [(0.2, 4e-3)], "feed": [(0.5, 4e-3)]},
        changes={"feed": [(4e-3, 2e-3)]},
        filters={"feed": [(1e11, 0.0)]},
    )
    conditions = Conditions.of(
        network, liquid_density=800.0, liquid_viscosity=1.2e-3, demand=[0, 0, 160e-6 / 60]
    )
    parts = breakdown(network, conditions, solve(network, conditions))
    speed = 160e-6 / 60 / (np.pi / 4 * 4e-3**2)
    kinds = [name.split()[0] for name in network.elements]
    assert kinds == ["tubes", "tubes", "changes", "filters"]
    np.testing.assert_allclose(parts.velocity[0], [speed, speed, 4 * speed, 0.0], rtol=1e-12)
    re = 800.0 * speed * 4e-3 / 1.2e-3
    np.testing.assert_allclose(parts.reynolds[0, 1:], [re, 2 * re, 0.0], rtol=1e-12)
