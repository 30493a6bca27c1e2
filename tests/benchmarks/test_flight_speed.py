"""How long flights take to fly."""

from dataclasses import replace

import numpy as np
import pytest

from plumbing import api
from plumbing.network import survey
from plumbing.simulation.engines import STOPS_AFTER
from plumbing.simulation.flight import feeding_for, fly, profile_for
from plumbing.simulation.fluid import fluids_at
from plumbing.simulation.march import march
from plumbing.simulation.moment import FlameOut, Stretches
from plumbing.simulation.peak import peak_flow

FLIGHTS = 1000


@pytest.fixture(scope="module", params=["chained-pair", "teed-pair"])
def case(request):
    """An aircraft with its survey and flight: a tree of lines, and one with a loop."""
    layout = api.load(f"layouts/{request.param}.yaml")
    return layout, survey(layout), profile_for(layout)


def stopped(moment):
    """Flights whose every engine has stopped."""
    return (moment.dry >= STOPS_AFTER).all(axis=1)


def marched(layout, feeding, profile, count, balance):
    """March so many flights to their ends."""
    filled = np.array([tank.fill for tank in layout.tanks.values()]) * feeding.tanks.capacity
    return march(
        feeding.tanks,
        Stretches(profile.duration, feeding.index),
        np.tile(filled, (count, 1)),
        balance,
        stop=stopped,
        flame_out=FlameOut(np.full((1, 1), 0.7), STOPS_AFTER, np.ones((1, 1), dtype=bool)),
    )


def test_one_flight_marched(benchmark, case):
    """March one flight of the demo, network and tanks ready."""
    layout, net, profile = case
    feeding = feeding_for(layout, net, profile)
    end = benchmark(lambda: marched(layout, feeding, profile, 1, feeding.remembering(1)))
    assert np.isfinite(end.volume).all()


def test_one_flight_from_the_layout(benchmark, case):
    """Fly the demo: compile, cut tanks, march the flight and the dry run, work out pressures."""
    layout, net, profile = case
    assert benchmark(lambda: fly(layout, net, profile)).usable > 0.0


@pytest.mark.quick("chained")
def test_a_thousand_flights(benchmark, case):
    """March a thousand flights at once, each of its own flow and temperature."""
    layout, net, profile = case
    rng = np.random.default_rng(1)
    one = feeding_for(layout, net, profile)
    many = replace(
        one,
        flow=one.flow * rng.uniform(0.9, 1.1, (FLIGHTS, 1, 1)),
        fluids=fluids_at(layout, rng.uniform(-5.0, 38.0, FLIGHTS)),
    )
    end = benchmark.pedantic(
        lambda: marched(layout, many, profile, FLIGHTS, many.remembering(FLIGHTS)), rounds=2
    )
    assert np.isfinite(end.volume).all()


def test_peak_flow_of_a_twin(benchmark):
    """All engines of the twin at full flow: 410 cases in three networks."""
    layout = api.load("layouts/twin.yaml")
    net = survey(layout)
    assert len(benchmark(lambda: peak_flow(layout, net)).engines) == 2
