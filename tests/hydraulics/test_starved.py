"""Nodes that cannot get what they need are named, and nothing comes out as no number."""

import numpy as np
import pytest

from plumbing.errors import SolveError
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.problem import reach
from plumbing.hydraulics.solver import solve

from .networks import JUNCTION, OUTSIDE, TANK, circuit

BRANCHES = {"vent": ("outside", "tank"), "feed": ("tank", "pump")}
KINDS = {"outside": OUTSIDE, "tank": TANK, "pump": JUNCTION}


def vented_tank(branches=BRANCHES, **given):
    """A vented tank and a pump that draws 160 ml/min."""
    network = circuit(KINDS, branches, tubes={name: [(0.4, 4e-3)] for name in branches})
    given = {"demand": [0.0, 0.0, 160e-6 / 60.0]} | given
    return network, Conditions.of(network, **given)


def test_a_blocked_vent_starves_the_pump_and_names_it():
    """No way for air: the pump is named, the rest is finite, the flow left out."""
    network, conditions = vented_tank(blocked=[[True, True], [False, False]])
    solution = solve(network, conditions)
    assert not solution.converged[0]
    assert solution.starved_nodes() == ("pump",)
    assert solution.why() == "no open way for air or fuel to pump"
    assert np.isfinite(solution.pressure).all()
    assert (solution.flow == 0.0).all()


def test_only_the_direction_that_is_needed_counts():
    """A vent that lets air out but not in starves the pump; one that lets it in does not."""
    for inward, starved in ((True, True), (False, False)):
        network, conditions = vented_tank(blocked=[[inward, not inward], [False, False]])
        assert solve(network, conditions).starved[0, 2] == starved


def test_filling_a_closed_tank_names_the_tank():
    """What is pushed in needs a way out."""
    blocked = [[False, True], [False, False]]
    network, conditions = vented_tank(blocked=blocked, demand=[0.0, -1e-6, 0.0])
    assert solve(network, conditions).starved_nodes() == ("tank",)


def test_starving_is_told_scenario_by_scenario():
    """One batch with the vent open, blocked, open."""
    blocked = np.zeros((3, 2, 2), dtype=bool)
    blocked[1, 0] = True
    network, conditions = vented_tank(blocked=blocked)
    solution = solve(network, conditions)
    assert list(solution.converged) == [True, False, True]
    assert [solution.why(row) for row in range(3)][::2] == ["", ""]


def test_loops_starve_like_trees():
    """The same with a second feed line beside the first."""
    branches = BRANCHES | {"beside": ("tank", "pump")}
    network, conditions = vented_tank(branches, blocked=[[True, True], [False] * 2, [False] * 2])
    solution = solve(network, conditions)
    assert solution.starved_nodes() == ("pump",)
    assert np.isfinite(solution.pressure).all()


@pytest.mark.outside("Standard atmosphere, 101 325 Pa by definition", quantity="largest suction")
def test_more_than_an_atmosphere_of_suction_starves():
    """A pump that would need more than 101 325 Pa below ambient is starved, though solved."""
    network, conditions = vented_tank(multiplier=np.array([[1.0, 1.0], [1.0, 1e3]]))
    solution = solve(network, conditions)
    assert solution.converged.all()
    assert list(solution.starved[:, 2]) == [False, True]
    assert "more than an atmosphere" in solution.why(1)


def test_a_closed_tank_that_nobody_draws_from_is_no_fault():
    """Its pressure follows its neighbour's and nothing flows."""
    network, conditions = vented_tank(demand=0.0, blocked=[[True, True], [False, False]])
    solution = solve(network, conditions)
    assert solution.converged.all()
    assert not solution.starved.any()
    assert solution.why() == ""


def test_reach_follows_open_directions_only():
    """In a chain of one-way branches supply goes along them, relief against them."""
    network = circuit(
        {"out": OUTSIDE, "a": TANK, "b": TANK},
        {"1": ("out", "a"), "2": ("a", "b")},
        tubes={"1": [(0.1, 4e-3)], "2": [(0.1, 4e-3)]},
    )
    ways = reach(network, Conditions.of(network, blocked=[[False, True], [False, True]]))
    assert ways.supplied.tolist() == [[True, True, True]]
    assert ways.relieved.tolist() == [[True, False, False]]


@pytest.mark.parametrize(
    ("given", "word"),
    [
        ({"demand": np.nan}, "demand"),
        ({"liquid_density": 0.0}, "liquid_density"),
        ({"share": 1.5}, "share"),
        ({"threshold": -1.0}, "threshold"),
        ({"demand": [1e-6, 0.0, 0.0]}, "outside"),
        ({"liquid_density": [800.0, 810.0], "gas_density": [1.0, 1.1, 1.2]}, "scenarios"),
    ],
)
def test_conditions_no_fluid_can_have_are_refused_by_name(given, word):
    """The message names the quantity or the node."""
    network, conditions = vented_tank(**given)
    with pytest.raises(SolveError, match=word):
        solve(network, conditions)


@pytest.mark.parametrize(
    ("branches", "tubes", "word"),
    [
        ({"loop": ("tank", "tank")}, (0.4, 4e-3), "loop"),
        ({}, (0.4, 4e-3), "no branches"),
        (BRANCHES, (0.4, 0.0), "Tubes.bore"),
        (BRANCHES, (-0.4, 4e-3), "Tubes.length"),
        (BRANCHES, (np.nan, 4e-3), "Tubes.length"),
    ],
)
def test_circuits_that_cannot_be_are_refused_by_name(branches, tubes, word):
    """The message names the branch or the array."""
    with pytest.raises(SolveError, match=word):
        circuit(KINDS, branches, tubes={name: [tubes] for name in branches})
