"""How long a survey takes; measured, never asserted."""

from pathlib import Path

from plumbing.layout import load
from plumbing.network import survey

HOME = Path(__file__).parents[2] / "layouts"


def test_survey_of_a_twin(benchmark):
    """A twin of 22 parts is surveyed."""
    layout = load(HOME / "twin.yaml")
    survey(layout)  # networkx is imported by the first
    assert benchmark(survey, layout).order.conflicts == ()
