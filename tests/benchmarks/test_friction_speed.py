"""How long tube friction takes; never asserted."""

import numpy as np
import pytest

from plumbing.physics.friction import tube_loss

RNG = np.random.default_rng(11)
BORE, RHO, MU = 4e-3, 800.0, 1.36e-3


def flows(low, high, shape):
    """Flows with Reynolds numbers spread evenly between two."""
    return RNG.uniform(low, high, shape) * np.pi * BORE * MU / (4.0 * RHO)


@pytest.mark.parametrize("roughness", [0.0, 1.5e-6], ids=["smooth", "rough"])
@pytest.mark.parametrize(
    "span", [(0.0, 1000.0), (-8000.0, 8000.0), (2000.0, 9000.0)], ids=["laminar", "mixed", "fast"]
)
def test_a_hundred_thousand_tubes(benchmark, span, roughness):
    """One drop and slope for each of 100 000 flows."""
    benchmark(tube_loss, flows(*span, 100_000), 1.0, BORE, roughness, RHO, MU)


def test_a_thousand_scenarios_of_a_hundred_lines(benchmark):
    """Fluids differ by scenario, tubes by line."""
    bore, length = RNG.uniform(2e-3, 6e-3, 100), RNG.uniform(0.05, 1.0, 100)
    rho = RNG.uniform(780.0, 840.0, (1000, 1))
    flow = flows(-8000.0, 8000.0, (1000, 100))
    benchmark(tube_loss, flow, length, bore, 1.5e-6, rho, 1.7e-6 * rho)


def test_twenty_lines_once(benchmark):
    """A small network, where the cost is that of the calls."""
    benchmark(tube_loss, flows(-3000.0, 3000.0, 20), 1.0, BORE, 1.5e-6, RHO, MU)
