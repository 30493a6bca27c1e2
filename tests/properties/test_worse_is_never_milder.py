"""Worse is never milder: a quantity made worse, to absurdity, never betters the verdict."""

from itertools import pairwise

import pytest

from .worsening import (
    DEMOS,
    QUANTITIES,
    STEPWISE,
    WORST,
    as_drawn,
    less,
    more,
    rank,
    worsened,
)

FEW = ("filters.*.*-drop",)


def ladder(demo, quantity):
    """Ranks of a demo as drawn and with the quantity worse and worse; none where it has none."""
    steps = quantity.steps if demo in STEPWISE else quantity.steps[-1:]
    trees = [worsened(demo, quantity.path, factor) for factor in steps]
    if None in trees:
        return []
    ranks = [rank(tree, quantity.ground) for tree in trees]
    return [as_drawn(demo, quantity.ground), *ranks]


def milder(demo, quantities):
    """Quantities that better a verdict when made worse, with the ranks."""
    ladders = {quantity.path: ladder(demo, quantity) for quantity in quantities}
    return {
        path: ranks
        for path, ranks in ladders.items()
        if any(then < before for before, then in pairwise(ranks))
    }


@pytest.mark.slow
@pytest.mark.parametrize("demo", DEMOS)
def test_no_quantity_betters_the_verdict_when_it_gets_worse(demo):
    """At least 40 quantities of each demo, each made worse step by step to absurdity."""
    there = [one for one in QUANTITIES if worsened(demo, one.path, 1.0) is not None]
    assert len(there) >= 40
    assert milder(demo, there) == {}


def test_a_few_quantities_of_the_plainest_demo():
    """The same for what decides most, on the demo that is quickest."""
    few = [one for one in QUANTITIES if one.path in FEW]
    assert len(few) == len(FEW)
    assert milder("single-main", few) == {}


SCREENS = [("single-main", 90.0), ("single-main", 1e4), *((demo, 110.0) for demo in DEMOS)]


@pytest.mark.parametrize(("demo", "drop"), SCREENS)
def test_a_screen_that_nothing_can_draw_through_is_unsafe(demo, drop):
    """A clean drop of 90 kPa is unsafe, and so is one beyond any vacuum [kPa]."""
    tree = worsened(demo, "filters.*.*-drop", drop / 0.2)
    assert rank(tree, ground=False) == WORST


def test_the_ladder_sees_an_improvement():
    """A quantity that gets better, called worse, is told: the test above can fail."""
    assert milder("single-main", [more("filters.*.*-drop", steps=(1e3, 1.0))]) != {}
    assert less("a").steps != more("a").steps
