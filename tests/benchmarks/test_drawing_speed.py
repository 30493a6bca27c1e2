"""How long drawings take; figures for the record, no limits."""

from pathlib import Path

from pytest_benchmark.fixture import BenchmarkFixture

from plumbing.drawing.diagram import schematic
from plumbing.drawing.elevations import elevation
from plumbing.layout import load
from plumbing.network import survey

TWIN = Path(__file__).parents[2] / "layouts" / "twin.yaml"


def test_schematic_of_the_largest_demo(benchmark: BenchmarkFixture) -> None:
    """Schematic of 22 parts: placing, routing and writing."""
    layout = load(str(TWIN))
    surveyed = survey(layout)
    assert benchmark(schematic, layout, surveyed).startswith("<svg")


def test_side_elevation_of_the_largest_demo(benchmark: BenchmarkFixture) -> None:
    """Side elevation of 22 parts with outlines of all solids."""
    layout = load(str(TWIN))
    surveyed = survey(layout)
    assert benchmark(elevation, layout, surveyed, "side").startswith("<svg")
