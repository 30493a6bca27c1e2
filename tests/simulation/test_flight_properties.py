"""What must not change a flight, and what must hold in any."""

import math
from dataclasses import replace
from functools import partial

import numpy as np
import pytest
from flight_rigs import (
    chained,
    closure,
    engine,
    finite,
    flown,
    mirrored,
    renamed,
    reordered,
    shifted,
    single,
    steady,
    teed,
)
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from plumbing import api
from plumbing.model.flight import Felt, Phase
from plumbing.network import survey
from plumbing.simulation import flight as flights
from plumbing.simulation.flight import fly, profile_for
from plumbing.simulation.profile import profile_of

RIGS = {
    "single": single(header=(50, 50, 60)),
    "teed": teed(300, 900),
    "chained": chained(header=(50, 50, 60), clunk=True),
}
FIGURE = profile_of(
    "figure",
    [
        Phase(name="run", duration=20.0, throttle=1.0, felt=Felt(forward=0.6)),
        Phase(
            name="round",
            repeat=3,
            phases=(
                Phase(name="slip", duration=30.0, throttle=0.7, roll=math.radians(12.0)),
                Phase(name="turn", duration=25.0, throttle=0.9, felt=Felt(starboard=0.2, up=3.0)),
                Phase(name="dive", duration=5.0, throttle=0.1, pitch=math.radians(-20.0)),
            ),
        ),
    ],
)


def same(one, two, names=lambda name: name, relative=1e-6):
    """Whether two flights come to the same, names apart."""
    assert two.usable == pytest.approx(one.usable, rel=relative)
    assert two.endurance == pytest.approx(one.endurance, rel=relative)
    for name, left in one.stranded.items():
        assert two.stranded[names(name)] == pytest.approx(left, abs=relative * one.on_board)
    assert [name for name, _ in two.order] == [names(name) for name, _ in one.order]
    for name, when in one.flame_out.items():
        assert (two.flame_out[names(name)] is None) == (when is None)
    assert two.history.suction.max() == pytest.approx(one.history.suction.max(), rel=1e-5)


@pytest.mark.quick("single", "chained")
@pytest.mark.parametrize("name", RIGS)
def test_names_do_not_matter(name):
    """Every part called otherwise: the same flight."""
    layout = RIGS[name]
    again = flown(renamed(layout, "x"), FIGURE)
    same(flown(layout, FIGURE), again, lambda name: f"x {name[::-1]}")


@pytest.mark.quick("single", "chained")
@pytest.mark.parametrize("name", RIGS)
def test_order_in_the_file_does_not_matter(name):
    """Every section written backwards: the same flight."""
    layout = RIGS[name]
    same(flown(layout, FIGURE), flown(reordered(layout), FIGURE), relative=2e-4)


@pytest.mark.quick("single", "chained")
@pytest.mark.parametrize("name", [*RIGS, "demo chained-pair", "demo wings-into-main"])
def test_origin_does_not_matter(name):
    """Drawn from another origin: the same flight, the centre of gravity moved along."""
    layout, profile = _rig(name)
    by = (0.3, -0.05, 0.12)
    one, two = flown(layout, profile), flown(shifted(layout, by), profile)
    same(one, two, relative=2e-4)
    if one.history.cg is not None:
        moved = two.history.cg[[0, -1]] - one.history.cg[[0, -1]]
        assert moved == pytest.approx(np.broadcast_to(by, (2, 3)), abs=1e-4)


@pytest.mark.quick("single", "chained")
@pytest.mark.parametrize("name", [*RIGS, "demo chained-pair", "demo teed-pair-repaired"])
def test_mirrored_aircraft_flies_mirrored(name):
    """Port and starboard exchanged, and every roll and slip: the same but for the rolling moment.

    Volumes agree to a hundredth of the fuel in steps that are not the same to the last digit.
    """
    layout, profile = _rig(name)
    other = replace(profile, gravity=profile.gravity * np.array([1.0, -1.0, 1.0]))
    one, two = flown(layout, profile), flown(mirrored(layout), other)
    same(one, two, relative=2e-3)
    largest = np.abs(one.history.moment).max()
    assert two.history.moment[-1] == pytest.approx(-one.history.moment[-1], abs=0.01 * largest)


def _rig(name):
    if name in RIGS:
        return RIGS[name], FIGURE
    layout = api.load(f"layouts/{name.removeprefix('demo ')}.yaml")
    return layout, profile_for(layout)


def test_twins_do_not_know_of_each_other():
    """Two half-systems alike burn and keep the same, each as if alone."""
    layout = api.load("layouts/twin.yaml")
    flight = fly(layout, survey(layout))
    burnt = flight.dry_run.burnt[-1]
    assert burnt[0] == pytest.approx(burnt[1], rel=1e-6)
    left = flight.stranded
    for tank in ("main", "header"):
        assert left[f"port {tank}"] == pytest.approx(left[f"starboard {tank}"], rel=1e-4)
    assert np.abs(flight.history.moment).max() < 1e-3


@pytest.mark.quick("single", "chained")
@pytest.mark.parametrize("name", [*RIGS, "demo chained-pair", "demo single-main", "demo teed-pair"])
def test_halving_the_tolerance_moves_nothing(monkeypatch, name):
    """Half the tolerance moves flame-out by under 0.5 % and stranded fuel by under 1 ml a litre."""
    layout, profile = (RIGS[name], steady(900.0)) if name in RIGS else _rig(name)
    one = flown(layout, profile)
    monkeypatch.setattr(flights, "march", partial(flights.march, tolerance=0.5e-3))
    two = flown(layout, profile)
    assert two.endurance == pytest.approx(one.endurance, rel=5e-3)
    for tank, left in one.stranded.items():
        assert two.stranded[tank] == pytest.approx(left, abs=1e-3 * one.on_board)


phases = st.builds(
    Phase,
    duration=st.floats(0.0, 60.0),
    throttle=st.floats(0.0, 1.0),
    pitch=st.floats(-math.pi / 2, math.pi / 2),
    roll=st.floats(-math.pi, math.pi),
    on_ground=st.booleans(),
) | st.builds(
    Phase,
    duration=st.floats(0.0, 60.0),
    throttle=st.floats(0.0, 1.0),
    felt=st.builds(
        Felt, forward=st.floats(-1.0, 1.0), starboard=st.floats(-1.0, 1.0), up=st.floats(-4.0, 8.0)
    ),
)


@given(
    rig=st.sampled_from(sorted(RIGS)),
    flying=st.lists(phases, min_size=1, max_size=5),
    fill=st.floats(0.0, 1.0),
    flow=st.floats(20.0, 600.0),
)
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_flight_adds_up(rig, flying, fill, flow):
    """Whatever is flown: no fuel lost or invented, none below empty, every number finite."""
    layout = RIGS[rig]
    tanks = {name: replace(tank, fill=fill) for name, tank in layout.tanks.items()}
    layout = replace(layout, tanks=tanks, engines={"engine": engine(flow, 0.2 * flow)})
    profile = profile_of("any", [*flying, Phase(duration=30.0, throttle=0.5)])
    flight = flown(layout, profile)
    assert finite(flight)
    for history in (flight.history, flight.dry_run):
        assert closure(history) < 1e-9
        capacity = np.array([np.prod(tank.shape.size) for tank in tanks.values()])
        assert (history.volume >= -1e-9 * capacity).all()
        assert (history.volume <= (1.0 + 1e-9) * capacity).all()
        assert (np.diff(history.time) >= 0.0).all()
        assert (np.diff(history.burnt, axis=0) >= -1e-15).all()
        assert ((history.share >= 0.0) & (history.share <= 1.0)).all()
    assert 0.0 <= flight.usable <= flight.on_board * (1.0 + 1e-9)
