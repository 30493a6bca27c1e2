"""Branches of a tee, held to the laminar law and to a fuel column worked by hand."""

import math
from dataclasses import replace

import pytest
from overlay import overlaid

from plumbing.checks.kit import Case, Found
from plumbing.checks.suction.teed_pickups_draw_air import find
from plumbing.simulation.setup import reference_of
from plumbing.simulation.tee_legs import drop, head, legs, pickup_of


@pytest.fixture
def case() -> Case:
    """Two tanks teed over equal branches of 4 mm bore."""
    return Case(overlaid("teed-pair", "notes: as it is"))


def test_legs_end_where_the_branches_meet(case):
    """A branch is the lines from the tank's port to the tee, and no line they share."""
    (teed,) = case.survey.teed
    found = {leg.tank: [line.name for line in leg.lines] for leg in legs(case.survey, teed)}
    assert found == {"port": ["port branch"], "starboard": ["starboard branch"]}


@pytest.mark.outside("Hagen-Poiseuille, worked by hand", quantity="drop of a wet branch")
def test_a_metre_more_costs_what_the_laminar_law_says(case):
    """At 1 ml/min a branch a metre longer loses 128 mu L Q / (pi D^4) more."""
    flow, mu = 1e-6 / 60.0, 1.5e-3
    by_hand = 128 * mu * 1.0 * flow / (math.pi * 4e-3**4)
    line = case.layout.lines["port branch"]
    longer = replace(line, cut_length=line.cut_length + 1.0)
    lines = {**case.layout.lines, line.name: longer}
    drops = []
    for each in (case, Case(replace(case.layout, lines=lines))):
        (teed,) = each.survey.teed
        leg = next(leg for leg in legs(each.survey, teed) if leg.tank == "port")
        drops.append(drop(each.survey, leg, flow, 805.0, mu))
    assert drops[1] - drops[0] == pytest.approx(by_hand, rel=1e-6)


@pytest.mark.outside("Darcy's law, by hand", quantity="drop of a fine-pore pickup")
def test_pickup_counts_at_the_flow_and_viscosity_it_is_stated_for(case):
    """Twice the clean drop adds the stated drop once more, at full flow of the usual fuel."""
    reference = reference_of(case.layout)
    mu = reference.viscosity
    (teed,) = case.survey.teed
    leg = next(leg for leg in legs(case.survey, teed) if leg.tank == "port")
    stated = pickup_of(case.survey, leg).clean_drop
    port = "{pickup: {clean-drop: %g Pa}}" % (2.0 * stated)
    twice = Case(overlaid("teed-pair", f"tanks: {{port: {{ports: {{feed: {port}}}}}}}"))
    (again,) = twice.survey.teed
    other = next(leg for leg in legs(twice.survey, again) if leg.tank == "port")
    more = drop(twice.survey, other, reference.flow, 805.0, mu) - drop(
        case.survey, leg, reference.flow, 805.0, mu
    )
    assert more == pytest.approx(stated, rel=1e-6)


def test_head_between_pickups_at_one_height_is_nothing(case):
    """Two tanks that mirror each other put no fuel column between their pickups."""
    (teed,) = case.survey.teed
    one, other = legs(case.survey, teed)
    assert head(case.survey, one, other, 805.0) == pytest.approx(0.0, abs=1.0)


@pytest.mark.outside("rho n g h, worked by hand", "fuel column between two pickups")
def test_head_of_a_tank_that_stands_higher():
    """A fixed pickup 50 mm over the other at 7 g has 805 x 7 x 9.80665 x 0.05 Pa less behind it."""
    case = Case(
        overlaid(
            "teed-pair",
            """
            tanks:
              port: {ports: {feed: {pickup:
                {kind: fixed, swings: null, rest: [300 mm, -60 mm, 25 mm]}}}}
              starboard: {ports: {feed: {pickup:
                {kind: fixed, swings: null, rest: [300 mm, 60 mm, -25 mm]}}}}
            aircraft: {load-factors: {positive: 7 g}}
            """,
        )
    )
    (teed,) = case.survey.teed
    port, starboard = sorted(legs(case.survey, teed), key=lambda leg: leg.tank)
    assert head(case.survey, port, starboard, 805.0) == pytest.approx(805.0 * 7 * 9.80665 * 0.05)


@pytest.mark.parametrize(("pore", "breaks"), [("20 um", False), ("150 um", True)])
def test_coarse_felt_does_not_hold(pore, breaks):
    """Pickups with fine pores hold back air; with pores of 150 um each of them lets it through."""
    pickup = f"{{ports: {{feed: {{pickup: {{pore: {pore}}}}}}}}}"
    layout = overlaid("teed-pair", f"tanks: {{port: {pickup}, starboard: {pickup}}}")
    found = [one.part for one in find(Case(layout), 0.0) if isinstance(one, Found)]
    assert found == (["port", "starboard"] if breaks else [])
