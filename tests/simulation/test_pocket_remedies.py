"""Remedies for fuel in the far leg of an inverted U, flown."""

from dataclasses import replace

import numpy as np
import pytest
from flight_rigs import single
from pocket_rigs import BRIDGE, LEG, LONG, TOP, WIDE, inverted_u

from plumbing.model.flight import Phase
from plumbing.model.tank import Pickup
from plumbing.network import survey
from plumbing.simulation.computed import Computed
from plumbing.simulation.flight import fly
from plumbing.simulation.profile import profile_of
from plumbing.studies.remedies import pockets

STEADY = profile_of("steady", [Phase(name="steady", duration=1200.0, throttle=1.0)])


class Flown(Computed):
    """A layout flown steadily."""

    @property
    def flight(self):
        """Level, at full throttle."""
        return fly(self.layout, survey(self.layout), STEADY)


def mended(propose):
    """The only proposal for the inverted U, and the flight with it."""
    (proposal,) = propose(Flown(inverted_u()))
    assert "pocket-without-pickup" in proposal.aims
    return proposal, Flown(proposal.layout).flight


@pytest.mark.outside("Hagen-Poiseuille between two legs that sink together", quantity="far leg")
def test_a_cross_tube_brings_the_far_leg_down_with_the_near_one():
    """Both legs sink alike; the far one lags by the head that half the flow needs in the tube."""
    proposal, found = mended(pockets.cross_tube)
    line = proposal.layout.lines["cross tube of main"]
    bore = proposal.layout.tube_of(line).inside_diameter
    length, half, nu = 0.14 + 2 * 0.04, 80e-6 / 60.0, 2.2e-6  # [m], [m3/s], kerosene at 15 degC
    head = 128.0 * nu * length * half / (np.pi * bore**4 * 9.80665)
    left = sum(one.volume for one in found.pockets)
    assert WIDE * LONG * head < left < 2.0 * WIDE * LONG * head  # the rest: mouths and barbs
    film = WIDE * LONG * 4e-3  # under the pickup
    assert BRIDGE + 2.0 * LEG - left - film < found.usable < BRIDGE + 2.0 * LEG - left


def test_a_cross_tube_begins_where_the_clunk_lies():
    """A clunk that hangs from the middle of the lid lies in one leg; the tube goes to the other."""
    layout = inverted_u()
    tank = layout.tanks["main"]
    clunk = Pickup(kind="clunk", reach=0.15, diameter=0.012)
    feed = replace(tank.ports["feed"], at=(0.0, -0.04, 0.5 * TOP), opens_at=None, pickup=clunk)
    tank = replace(tank, ports={**tank.ports, "feed": feed})
    (proposal,) = pockets.cross_tube(Flown(replace(layout, tanks={"main": tank})))
    ports = proposal.layout.tanks["main"].ports
    assert ports["cross near"].at == pytest.approx((0.0, -0.07, -0.5 * TOP))
    assert ports["cross far"].at == pytest.approx((0.0, 0.07, -0.5 * TOP))


@pytest.mark.outside("hand: a pickup at the floor of each leg", quantity="usable fuel")
def test_a_second_pickup_drinks_the_far_leg():
    """With fine pores in both legs neither draws air before the other is empty."""
    proposal, found = mended(pockets.second_pickup)
    ports = proposal.layout.tanks["main"].ports
    rest = ports["feed far"].pickup.rest
    assert rest[1] == pytest.approx(0.07)
    assert ports["feed far"].at[2] > 0.05
    assert sum(one.volume for one in found.pockets) < 0.05 * LEG
    assert found.usable > BRIDGE + 2.0 * LEG - 0.3 * LEG


@pytest.mark.outside("hand: turned over, a U-tube is one pool", quantity="usable fuel")
def test_turned_over_the_tank_is_one_pool():
    """Legs up, the pickup's port is in the floor's pocket and no pocket keeps fuel."""
    _, found = mended(pockets.turned_over)
    assert found.pockets == ()


def test_a_tank_without_pockets_gets_no_proposal():
    """Nothing is proposed where no pocket keeps fuel."""
    for propose in (pockets.cross_tube, pockets.second_pickup, pockets.turned_over):
        assert list(propose(Flown(single()))) == []
