"""Networks with published or exactly known answers."""

import numpy as np
import pytest

from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.solver import solve

from .networks import JUNCTION, OUTSIDE, circuit

FOOT, INCH, CFS = 0.3048, 0.0254, 0.3048**3
LITRE_PER_MINUTE = 1e-3 / 60.0

PIPES = {  # inches, feet, cfs published, ft published, cfs with Churchill's friction factor
    "1": ("A", "B", 12, 3000, 1.7474, 4.8817, 1.74762),
    "2": ("B", "C", 14, 2000, 3.4873, 5.6573, 3.48777),
    "3": ("D", "C", 10, 3000, 0.92260, 3.6113, 0.92238),
    "4": ("A", "D", 10, 2000, 1.5926, 6.9278, 1.59238),
    "5": ("C", "E", 14, 3000, 1.7399, 2.2054, 1.74014),
    "6": ("B", "F", 10, 2000, 1.6001, 6.9913, 1.59986),
    "7": ("F", "E", 12, 3000, 0.71006, 0.87151, 0.70986),
}


def two_loops():
    """The network of seven pipes and its solution."""
    kinds = dict.fromkeys("ABCDF", JUNCTION) | {"E": OUTSIDE}
    tubes = {name: [(row[3] * FOOT, row[2] * INCH, 0.012 * INCH)] for name, row in PIPES.items()}
    network = circuit(kinds, {name: row[:2] for name, row in PIPES.items()}, tubes=tubes)
    drawn = dict(A=-3.34, B=-3.34, C=2.67, D=0.67, F=0.89, E=0.0)
    conditions = Conditions.of(
        network,
        liquid_density=1000.0,
        liquid_viscosity=1000.0 * 1.217e-5 * FOOT**2,
        share=1.0,
        demand=[drawn[node] * CFS for node in kinds],
    )
    return network, solve(network, conditions)


@pytest.mark.outside(
    "R. W. Jeppson, Analysis of Flow in Pipe Networks, 1976, chapter 7", quantity="flows"
)
def test_flows_of_the_two_loop_network_are_the_published_ones():
    """Flows agree to 0.05 %: Jeppson's friction factor is Colebrook's, ours Churchill's."""
    _, solution = two_loops()
    published = np.array([row[4] for row in PIPES.values()])
    assert solution.converged.all()
    np.testing.assert_allclose(solution.flow[0] / CFS, published, rtol=5e-4)


@pytest.mark.outside(
    "Jeppson's network solved by scipy.optimize.fsolve with Churchill's factor", quantity="flows"
)
def test_flows_of_the_two_loop_network_with_churchill():
    """Flows agree to all digits of an independent solution with the same friction factor."""
    _, solution = two_loops()
    second = np.array([row[6] for row in PIPES.values()])
    np.testing.assert_allclose(solution.flow[0] / CFS, second, atol=6e-6)


@pytest.mark.outside(
    "R. W. Jeppson, Analysis of Flow in Pipe Networks, 1976, chapter 7", quantity="head losses"
)
def test_heads_of_the_two_loop_network_are_near_the_published_ones():
    """Head losses agree to 1 %, the difference between the two friction factors."""
    network, solution = two_loops()
    across = solution.pressure[0, network.start] - solution.pressure[0, network.end]
    head = across / (1000.0 * 32.2 * FOOT) / FOOT
    np.testing.assert_allclose(head, [row[5] for row in PIPES.values()], rtol=1e-2)


PARALLEL = {"1": (100.0, 0.08, 0.003), "2": (150.0, 0.06, 0.002), "3": (80.0, 0.04, 0.005)}


def parallel():
    """Three pipes side by side under a head of 20.3 m; flows in m3/h."""
    tubes = {
        name: [(length, bore, rough * bore)] for name, (length, bore, rough) in PARALLEL.items()
    }
    network = circuit(
        {"in": OUTSIDE, "out": OUTSIDE}, dict.fromkeys(PARALLEL, ("in", "out")), tubes=tubes
    )
    conditions = Conditions.of(
        network,
        liquid_density=1000.0,
        liquid_viscosity=1.02e-3,
        share=1.0,
        fixed_pressure=[1000.0 * 9.81 * 20.3, 0.0],
    )
    return solve(network, conditions).flow[0] * 3600.0


@pytest.mark.outside(
    "F. M. White, Fluid Mechanics, chapter 6, three pipes in parallel; book answers from memory",
    quantity="flows",
)
def test_three_pipes_in_parallel_carry_what_the_book_says():
    """62.5, 25.9 and 11.4 m3/h within the difference of the friction factors."""
    np.testing.assert_allclose(parallel(), [62.5, 25.9, 11.4], rtol=5e-3)


@pytest.mark.outside(
    "White's parallel pipes by scipy.optimize.brentq with Churchill's factor", quantity="flows"
)
def test_three_pipes_in_parallel_by_a_second_method():
    """Each pipe agrees with its own scalar solution."""
    np.testing.assert_allclose(parallel(), [62.38278, 25.80759, 11.36294], rtol=1e-6)


@pytest.mark.outside("Hagen-Poiseuille, two resistances in parallel", quantity="flows and drop")
def test_two_laminar_tubes_in_parallel_share_the_flow_exactly():
    """3 mm x 0.5 m beside 4 mm x 0.8 m divide 0.6 L/min as their conductances do."""
    network = circuit(
        {"in": OUTSIDE, "out": JUNCTION},
        {"narrow": ("in", "out"), "wide": ("in", "out")},
        tubes={"narrow": [(0.5, 3e-3)], "wide": [(0.8, 4e-3)]},
    )
    conditions = Conditions.of(
        network, liquid_viscosity=1.44e-3, share=1.0, demand=[0.0, 0.6 * LITRE_PER_MINUTE]
    )
    solution = solve(network, conditions)
    np.testing.assert_allclose(solution.flow[0] / LITRE_PER_MINUTE, [0.201660, 0.398340], atol=5e-7)
    assert solution.pressure[0, 1] == pytest.approx(-1217.238, abs=5e-4)


@pytest.mark.outside("Crane TP-410M, example 7-8, book answer 6382 Pa", quantity="pressure drop")
def test_laminar_oil_through_pipe_and_globe_valve():
    """600 barrels an hour of oil through 60 m of 8 inch pipe and a globe valve lose 6382 Pa."""
    flow = 600 * 42 * 231 * INCH**3 / 3600
    network = circuit(
        {"in": OUTSIDE, "out": JUNCTION},
        {"pipe": ("in", "out")},
        tubes={"pipe": [(60.0, 0.20274)]},
        fittings={"pipe": [(0.0, 340 * 0.014038, 340 * 0.014038, 0.20274)]},
    )
    conditions = Conditions.of(
        network, liquid_density=869.2, liquid_viscosity=0.130, share=1.0, demand=[0.0, flow]
    )
    assert solve(network, conditions).pressure[0, 1] == pytest.approx(-6382.0, abs=1.0)


@pytest.mark.parametrize(
    ("litres", "bore", "length", "nu", "drop"),
    [
        (0.10, 2.0e-3, 1.0, 1.8e-6, 6111.55),
        (0.25, 2.5e-3, 0.5, 1.5e-6, 2607.59),
        (0.50, 4.0e-3, 1.0, 1.8e-6, 1909.86),
        (0.50, 2.5e-3, 1.0, 1.8e-6, 14693.18),
        (1.00, 4.0e-3, 1.0, 1.8e-6, 7515.84),
    ],
)
@pytest.mark.outside(
    "Hagen-Poiseuille, and Churchill's factor as the fluids library computes it", quantity="drop"
)
def test_one_tube_loses_what_its_formula_says(litres, bore, length, nu, drop):
    """Laminar rows are Hagen-Poiseuille; the last two lie in transition."""
    network = circuit(
        {"in": OUTSIDE, "out": JUNCTION}, {"tube": ("in", "out")}, tubes={"tube": [(length, bore)]}
    )
    conditions = Conditions.of(
        network,
        liquid_density=800.0,
        liquid_viscosity=800.0 * nu,
        share=1.0,
        demand=[0.0, litres * LITRE_PER_MINUTE],
    )
    assert solve(network, conditions).pressure[0, 1] == pytest.approx(-drop, abs=0.006)
