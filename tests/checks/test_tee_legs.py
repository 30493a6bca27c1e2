"""Branches of a tee, held to the laminar law and to a fuel column worked by hand."""

import math

import pytest
from overlay import overlaid

from plumbing.checks.kit import Case, Found
from plumbing.checks.suction.teed_pickups_draw_air import find
from plumbing.checks.tee_legs import drop, head, legs


@pytest.fixture
def case() -> Case:
    """Two tanks teed over equal branches of 4 mm bore."""
    return Case(overlaid("teed-pair", "notes: as it is"))


def test_legs_end_where_the_branches_meet(case):
    """A branch is the lines from the tank's port to the tee, and no line they share."""
    (teed,) = case.survey.teed
    found = {leg.tank: [line.name for line in leg.lines] for leg in legs(case, teed)}
    assert found == {"port": ["port branch"], "starboard": ["starboard branch"]}


@pytest.mark.outside("Hagen-Poiseuille, worked by hand", "drop of a wet branch")
def test_drop_of_a_branch_at_small_flow_is_laminar(case):
    """At 1 ml/min barbs cost nothing: line and hose lose 128 mu L Q / (pi D^4)."""
    (teed,) = case.survey.teed
    leg = next(leg for leg in legs(case, teed) if leg.tank == "port")
    pickup = case.layout.tanks["port"].ports["feed"].pickup
    flow, mu = 1e-6 / 60.0, 1.5e-3
    pieces = [(line.cut_length, 4e-3) for line in leg.lines]
    pieces.append((pickup.hose.length, pickup.hose.bore))
    by_hand = sum(128 * mu * length * flow / (math.pi * bore**4) for length, bore in pieces)
    assert drop(case, leg, flow, 805.0, mu) - pickup.clean_drop == pytest.approx(by_hand, rel=0.02)


def test_head_between_pickups_at_one_height_is_nothing(case):
    """Two tanks that mirror each other put no fuel column between their pickups."""
    (teed,) = case.survey.teed
    one, other = legs(case, teed)
    assert head(case, one, other, 805.0) == pytest.approx(0.0, abs=1.0)


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
    port, starboard = sorted(legs(case, teed), key=lambda leg: leg.tank)
    assert head(case, port, starboard, 805.0) == pytest.approx(805.0 * 7 * 9.80665 * 0.05)


@pytest.mark.parametrize(("pore", "breaks"), [("20 um", False), ("150 um", True)])
def test_coarse_felt_does_not_hold(pore, breaks):
    """Pickups with fine pores hold back air; with pores of 150 um each of them lets it through."""
    pickup = f"{{ports: {{feed: {{pickup: {{pore: {pore}}}}}}}}}"
    layout = overlaid("teed-pair", f"tanks: {{port: {pickup}, starboard: {pickup}}}")
    found = [one.part for one in find(Case(layout), 0.0) if isinstance(one, Found)]
    assert found == (["port", "starboard"] if breaks else [])
