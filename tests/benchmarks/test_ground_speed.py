"""How long filling, draining, parking and all single faults take; measured, never asserted."""

from pathlib import Path

import pytest

from plumbing.layout import load
from plumbing.network import survey
from plumbing.simulation.draining import drain_all
from plumbing.simulation.filling import fill_all
from plumbing.simulation.parking import park
from plumbing.studies.faults import faults

HOME = Path(__file__).parents[2] / "layouts"


@pytest.mark.quick("fill", "drain", "park")
@pytest.mark.parametrize("run", [fill_all, drain_all, park, faults], ids=lambda run: run.__name__)
@pytest.mark.parametrize("name", ["twin", "teed-pair"])
def test_on_the_ground(benchmark, name, run):
    """A tree (the twin) and a network with loops (the teed pair)."""
    layout = load(HOME / f"{name}.yaml")
    surveyed = survey(layout)
    assert benchmark.pedantic(run, (layout, surveyed), rounds=3, warmup_rounds=1) is not None
