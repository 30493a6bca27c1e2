"""Pressures of linear networks: what the laws of resistors in series and parallel say."""

import networkx as nx
import numpy as np
import pytest

from plumbing.hydraulics import nodal
from plumbing.hydraulics.nodal import node_pressures, plan

from .networks import OUTSIDE, TANK, circuit

RNG = np.random.default_rng(20)


def network(pairs, outside=("0",)):
    """Branches between numbered nodes."""
    names = dict.fromkeys(str(node) for pair in pairs for node in pair)
    kinds = {name: OUTSIDE if name in outside else TANK for name in names}
    return circuit(kinds, {f"b{n}": (str(a), str(b)) for n, (a, b) in enumerate(pairs)})


def pressures(made, conductance, given, demand, fixed):
    """Pressures, scenarios first, when they are fixed somewhere: what these drive is given."""
    across = fixed[:, made.start] - fixed[:, made.end]
    driven = (given + conductance * across).T
    return fixed + node_pressures(made, conductance.T, driven[None], demand.T)[0].T


def full(made, conductance, given, demand, fixed):
    """The same pressures from the whole nodal matrix, by numpy."""
    count = len(made.nodes)
    matrix, right = np.zeros((count, count)), -demand.copy()
    ends = zip(made.start, made.end, strict=True)
    for (start, end), ease, flow in zip(ends, conductance, given, strict=True):
        for node, other, sense in ((start, end, -1.0), (end, start, 1.0)):
            matrix[node, node] += ease
            matrix[node, other] -= ease
            right[node] += sense * flow
    matrix[made.fixed] = np.eye(count)[made.fixed]
    right[made.fixed] = fixed[made.fixed]
    return np.linalg.solve(matrix, right)


@pytest.mark.parametrize("nodes", [2, 3, 8, 30, 90])
def test_any_network_agrees_with_the_whole_matrix(nodes):
    """Trees with more branches at random, among them double ones."""
    for extra in (0, 1, nodes // 2, 2 * nodes):
        tree = nx.random_labeled_tree(nodes, seed=int(RNG.integers(1000))).edges
        more = [RNG.choice(nodes, 2, replace=False).tolist() for _ in range(extra)]
        made = network([*tree, *more])
        shape = (5, len(made.branches))
        conductance, given = RNG.uniform(0.01, 10.0, shape), RNG.normal(size=shape)
        demand, fixed = RNG.normal(size=(2, 5, nodes))
        fixed = np.where(made.fixed, fixed, 0.0)
        found = pressures(made, conductance, given, demand, fixed)
        for row in range(5):
            whole = full(made, conductance[row], given[row], demand[row], fixed[row])
            assert found[row] == pytest.approx(whole, rel=1e-9, abs=1e-9)


def test_a_leak_keeps_its_digits_beside_a_bore_without_loss():
    """Two leaks of 1e-18 hold a wide piece of tube between them: halfway, by symmetry."""
    made = network([(0, 1), (1, 2), (2, 3)], outside=("0", "3"))
    conductance = np.array([[1e-18, 1e9, 1e-18]])
    fixed = np.array([[100.0, 0.0, 0.0, 0.0]])
    found = pressures(made, conductance, np.zeros((1, 3)), np.zeros((1, 4)), fixed)
    assert found[0, 1:3] == pytest.approx([50.0, 50.0], rel=1e-12)


def test_what_is_joined_to_nothing_has_no_pressure():
    """Two nodes by themselves, beside a line with half its drop in each half."""
    made = network([(0, 1), (1, 2), (3, 4)], outside=("0", "2"))
    conductance = np.array([[1.0, 1.0, 0.0]])
    fixed = np.array([[8.0, 0.0, 2.0, 0.0, 0.0]])
    found = pressures(made, conductance, np.zeros((1, 3)), np.zeros((1, 5)), fixed)
    assert found.tolist() == [[8.0, 5.0, 2.0, 0.0, 0.0]]


def test_a_long_chain_takes_few_stages():
    """Every third node of a row can go at once: stages grow with the logarithm of its length."""
    stages = [
        len(plan(network([(n, n + 1) for n in range(length)])).stages) for length in (60, 240)
    ]
    assert stages[1] <= stages[0] + 6


def test_a_large_network_without_an_answer_is_left_without_pressure():
    """A chain of 500 nodes joined to each other and to nothing else has no answer: 0, no error."""
    length = nodal.LARGE + 100
    made = network([(n, n + 1) for n in range(1, length)] + [(0, length + 1)])
    branches, nodes = len(made.branches), len(made.nodes)
    none = np.zeros((1, nodes))
    found = pressures(made, np.ones((1, branches)), np.zeros((1, branches)), none, none)
    assert (found == 0.0).all()
