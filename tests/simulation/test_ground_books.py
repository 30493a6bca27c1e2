"""The books of filling and draining: what came on board is left, taken or lost."""

import json
from pathlib import Path

import pytest

from plumbing.layout import load
from plumbing.network import survey
from plumbing.report.ground_json import fill_json
from plumbing.simulation.fuelling import fuelling

HOME = Path(__file__).parents[2]
LAYOUTS = [*HOME.glob("layouts/*.yaml"), *HOME.glob("plumbing/layout/starters/*.yaml")]
EXACT = 1e-6  # of all fuel that came on board


def closes(books):
    """Whether both sides of books as printed are equal."""
    came = books["start_m3"] + books["pushed_in_m3"]
    lost = sum(books["lost_overboard_m3"].values())
    went = sum(books["left_m3"].values()) + books["taken_m3"] + lost
    return went == pytest.approx(came, rel=EXACT, abs=1e-15)


@pytest.mark.quick("single-main", "chained-pair", "starters")
@pytest.mark.parametrize("path", LAYOUTS, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_filling_and_draining_lose_nothing_in_the_books(path):
    """In each example, all that was on board or pushed in is found again, outlet by outlet."""
    layout = load(path)
    found = json.loads(fill_json(fuelling(layout, survey(layout))))
    every = [*found["filling"].values(), *found["draining"].values()]
    assert every
    for one in every:
        assert closes(one["books"]), one
    for one in found["filling"].values():
        volumes = {name: held[-1] for name, held in one["volume_m3"].items()}
        assert one["books"]["left_m3"] == pytest.approx(volumes, abs=1e-15)
        assert one["books"]["pushed_in_m3"] == pytest.approx(one["pushed_in_m3"][-1], abs=1e-15)
