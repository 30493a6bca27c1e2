"""How long sizing takes on the largest demo."""

from pathlib import Path

import pytest

from plumbing import layout as layouts
from plumbing.network import survey
from plumbing.studies.sizing import size

LAYOUTS = Path(__file__).parents[2] / "layouts"


@pytest.mark.quick("False")
@pytest.mark.parametrize("new_joints", [False, True])
def test_sizing_the_twin(benchmark, new_joints: bool) -> None:
    """Twelve lines, the whole catalogue, 410 cases, with the trade-off."""
    layout = layouts.load(LAYOUTS / "twin.yaml")
    found = survey(layout)
    sizing = benchmark(size, layout, found, new_joints=new_joints)
    assert not sizing.blocked
