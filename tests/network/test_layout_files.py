"""The aircraft that come with the program, as surveyed."""

from pathlib import Path

import pytest

from plumbing.layout import load
from plumbing.network import survey

HOME = Path(__file__).parents[2] / "layouts"
SOUND = ("single-main", "chained-pair", "teed-pair-repaired", "wings-into-main", "twin")


def surveyed(name):
    """Survey of a layout file."""
    return survey(load(HOME / f"{name}.yaml"))


@pytest.mark.parametrize("name", SOUND)
def test_sound_layouts_have_no_wiring_fault(name):
    """Every tank breathes and feeds, the feed order is as intended, the header unvented."""
    found = surveyed(name)
    assert found.airless == found.unfed == found.cut_off == found.dead_ends == ()
    assert found.order.conflicts == ()
    assert found.second_vents == found.teed == found.dry_ports == ()
    assert all(not header.openings for header in found.headers)
    assert not any(part.against for part in found.one_way)


@pytest.mark.parametrize("name", SOUND)
def test_sound_layouts_fill_to_the_overflow(name):
    """Filled through its fill ports every tank fills, the last is where it overflows."""
    found = surveyed(name)
    assert found.unfilled == ()
    for fill in found.fills.values():
        assert fill.last_is_overflow
        assert not any(engine.floods for engine in fill.engines)


def test_teed_pair_is_found():
    """The teed pair has its two tanks in one group and its tee named."""
    found = surveyed("teed-pair")
    assert found.order.groups[0].tanks == ("port", "starboard")
    assert [teed.tees for teed in found.teed] == [("suction tee",)]


def test_twin_is_two_systems():
    """The twin's halves share no part."""
    found = surveyed("twin")
    assert len(found.order.systems) == 2
    assert found.shared == ()
