"""Compressing a recorded flight: what is kept exactly, and what within bounds."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plumbing.simulation.compressed import (
    LOAD,
    LONGEST,
    MOST_DIRECTIONS,
    TURN,
    Samples,
    blocks,
    few_directions,
    stretches,
    with_direction,
)

G = 9.80665


def samples(seed, count, wild=1.0):
    """A made-up flight: a random walk of gravity and flow, with steps."""
    random = np.random.default_rng(seed)
    gravity = np.array([0.0, 0.0, -G]) + wild * np.cumsum(random.normal(size=(count, 3)), axis=0)
    flow = np.abs(np.cumsum(random.normal(size=count))) * 1e-6
    return Samples(random.uniform(0.01, 0.1, count), gravity, flow, np.zeros((count, 2)))


def merged(one):
    """It, compressed."""
    return one.merged(stretches(one, np.zeros(len(one.flow))))


@settings(max_examples=60, deadline=None)
@given(seed=st.integers(0, 10**6), count=st.integers(1, 400), smoothing=st.floats(0.0, 3.0))
def test_time_and_fuel_are_kept(seed, count, smoothing):
    """Compressing keeps the whole time and the fuel burnt, to rounding."""
    one = samples(seed, count)
    begin = np.concatenate([[0.0], np.cumsum(one.duration)[:-1]])
    smooth = one.merged(blocks(begin, smoothing))
    smooth = Samples(smooth.duration, with_direction(smooth.gravity), smooth.flow, smooth.others)
    two = merged(smooth)
    assert two.duration.sum() == pytest.approx(one.duration.sum(), rel=1e-12)
    assert two.flow @ two.duration == pytest.approx(one.flow @ one.duration, rel=1e-9)
    assert len(two.flow) <= len(one.flow)


@settings(max_examples=60, deadline=None)
@given(seed=st.integers(0, 10**6), wild=st.floats(0.0, 3.0))
def test_a_stretch_stays_within_bounds(seed, wild):
    """No sample is farther from its stretch than twice the bounds, and none changes for long."""
    one = samples(seed, 300, wild)
    one = Samples(one.duration, with_direction(one.gravity), one.flow, one.others)
    group = stretches(one, np.zeros(len(one.flow)))
    two = one.merged(group)
    mean, size = two.gravity[group], np.linalg.norm(one.gravity, axis=1)
    middle = np.linalg.norm(mean, axis=1)
    turn = np.arccos(np.clip(np.sum(mean * one.gravity, axis=1) / size / middle, -1, 1))
    assert turn.max() <= 2.0 * TURN + 1e-6
    assert (np.abs(size - middle) <= 2.2 * LOAD * np.maximum(middle, G)).all()
    spread = np.zeros(len(two.flow))
    np.maximum.at(spread, group, np.abs(one.flow - two.flow[group]))
    changing = spread > 0.05 * two.flow + 0.01 * one.flow.max()
    assert (two.duration[changing] <= LONGEST + 0.2).all()


def test_a_steady_flight_is_one_stretch():
    """Nothing changes for an hour: one stretch."""
    count = 3600
    one = Samples(
        np.ones(count),
        np.tile([0.0, 0.0, -G], (count, 1)),
        np.full(count, 1e-5),
        np.ones((count, 1)),
    )
    assert len(merged(one).duration) == 1


def test_a_slow_change_is_cut_every_five_seconds():
    """Throttle opened over half an hour: stretches of at most five seconds."""
    count = 18_000
    flow = np.linspace(1e-6, 1e-5, count)
    gravity = np.tile([0.0, 0.0, -G], (count, 1))
    two = merged(Samples(np.full(count, 0.1), gravity, flow, np.ones((count, 1))))
    assert two.duration[len(two.duration) // 2 :].max() <= 30.0
    assert np.abs(np.diff(two.flow) / two.flow[1:]).max() < 0.1


def test_a_step_ends_a_stretch():
    """A roll inverted is a stretch of its own, as long as it lasted."""
    gravity = np.tile([0.0, 0.0, -G], (30, 1))
    gravity[10:20] *= -1.0
    two = merged(Samples(np.full(30, 0.5), gravity, np.ones(30), np.ones((30, 1))))
    np.testing.assert_allclose(two.duration, [5.0, 5.0, 5.0])
    np.testing.assert_allclose(two.gravity[:, 2], [-G, G, -G])


def test_weightless_fuel_stays_where_it_was():
    """Where nothing is felt the last direction is kept, at the beginning the first there is."""
    level, side = np.array([0.0, 0.0, -G]), np.array([0.0, G, 0.0])
    gravity = np.array([[0.0, 0.0, 0.1], side, [0.0, 0.0, 0.0], level, [0.3, 0.0, 0.0]])
    kept = with_direction(gravity)
    unit = kept / np.linalg.norm(kept, axis=1)[:, None]
    np.testing.assert_allclose(unit, np.array([side, side, side, level, level]) / G, atol=1e-12)
    assert np.linalg.norm(kept[2]) < 1e-4 * G
    assert np.linalg.norm(kept[4]) == pytest.approx(0.3)
    np.testing.assert_allclose(with_direction(np.zeros((2, 3))), [level, level])


@settings(max_examples=20, deadline=None)
@given(seed=st.integers(0, 10**6))
def test_directions_are_few_and_near(seed):
    """However wild a flight, directions are bounded; sizes stay; each moves less than a cell."""
    random = np.random.default_rng(seed)
    gravity = random.normal(size=(5000, 3)) * G
    few = few_directions(gravity, np.ones(5000))
    size = np.linalg.norm(gravity, axis=1)
    np.testing.assert_allclose(np.linalg.norm(few, axis=1), size, rtol=1e-12)
    unit = np.round(few / size[:, None], 9)
    assert len(np.unique(unit, axis=0)) <= MOST_DIRECTIONS
    turn = np.arccos(np.clip(np.sum(few * gravity, axis=1) / size**2, -1, 1))
    assert turn.max() < math.radians(13.0)


def test_a_few_directions_stay_as_they_are():
    """Directions degrees apart are not moved at all."""
    angles = np.radians(np.arange(0, 180, 7.0))
    gravity = G * np.stack([np.sin(angles), 0 * angles, -np.cos(angles)], axis=-1)
    few = few_directions(np.repeat(gravity, 3, axis=0), np.ones(3 * len(gravity)))
    np.testing.assert_allclose(few, np.repeat(gravity, 3, axis=0), atol=1e-9)


def test_blocks_are_at_least_as_long_as_the_smoothing():
    """Noise is averaged over whole blocks; none asked for leaves every sample alone."""
    time = np.arange(0.0, 10.0, 0.02)
    number = blocks(time, 0.5)
    assert number[-1] == 19
    assert np.bincount(number).tolist() == [25] * 20
    assert blocks(time, 0.0).tolist() == list(range(500))
    assert blocks(np.array([0.0, 7.0, 9.0]), 0.5).tolist() == [0, 1, 2]
