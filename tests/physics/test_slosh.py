"""The first mode of a liquid in a tank, held to limits by hand and to published values."""

import math

import numpy as np
import pytest

from plumbing.physics.slosh import frequency, swung, wavenumber_between, wavenumber_round

G = 9.80665


@pytest.mark.outside("worked by hand: waves on deep and on shallow water", quantity="slosh")
def test_deep_and_shallow_water():
    """Deep: omega^2 = g pi / L. Shallow: there and back in 2 L / c."""
    wall = np.array(0.2)
    deep = frequency(np.array(G), wavenumber_between(wall), np.array(2.0))
    assert deep == pytest.approx(math.sqrt(G * math.pi / 0.2), rel=1e-9)
    shallow = frequency(np.array(G), wavenumber_between(wall), np.array(1e-4))
    assert 2.0 * math.pi / shallow == pytest.approx(2.0 * 0.2 / math.sqrt(G * 1e-4), rel=1e-5)


@pytest.mark.outside("worked by hand", quantity="slosh")
def test_a_box_of_200_mm_half_full():
    """With k = 15.708 / m, k h = 0.7854, tanh 0.6558: sqrt(9.80665 15.708 0.6558) = 10.05."""
    omega = frequency(np.array(G), wavenumber_between(np.array(0.2)), np.array(0.05))
    assert omega == pytest.approx(10.05, abs=0.005)


@pytest.mark.outside(
    "Abramowitz and Stegun, 1964, from memory: first zero of J1'", quantity="slosh"
)
def test_the_round_tank():
    """The zero is 1.84118; a deep round tank of 0.1 m radius swings with sqrt(g 18.4118)."""
    omega = frequency(np.array(G), wavenumber_round(0.1), np.array(9.0))
    assert omega**2 == pytest.approx(G * 18.4118, rel=1e-5)


def test_twice_the_load_swings_quicker_by_the_root_of_two():
    """The frequency goes with the root of the effective gravity."""
    one, two = (frequency(np.array(g), np.array(20.0), np.array(0.03)) for g in (G, 2.0 * G))
    assert two / one == pytest.approx(math.sqrt(2.0))


@pytest.mark.outside("step response of a damped oscillator, by hand", quantity="slosh")
def test_the_overshoot_and_the_damped_period():
    """With 5 % damping the first overshoot is exp(-pi z / sqrt(1 - z^2)) = 0.8545 of the step."""
    omega, damping = np.array(10.0), 0.05
    half = math.pi / (10.0 * math.sqrt(1.0 - damping**2))
    offset, speed = swung(np.array(-1.0), np.array(0.0), omega, damping, np.array(half))
    assert offset == pytest.approx(0.8545, abs=5e-5)
    assert speed == pytest.approx(0.0, abs=1e-9)


def test_the_swing_obeys_its_equation():
    """By differences: x'' + 2 z w x' + w^2 x = 0; and two short times are one long one."""
    given = np.array(0.4), np.array(-1.5), np.array(7.0), 0.1
    step = 1e-4
    before, now, after = (swung(*given, np.array(t)) for t in (0.3 - step, 0.3, 0.3 + step))
    speed = (after[0] - before[0]) / (2.0 * step)
    felt = (after[1] - before[1]) / (2.0 * step)
    assert now[1] == pytest.approx(speed, rel=1e-6)
    assert felt + 2.0 * 0.1 * 7.0 * now[1] + 49.0 * now[0] == pytest.approx(0.0, abs=1e-5)
    for one, other in zip(
        swung(*now, *given[2:], np.array(0.2)), swung(*given, np.array(0.5)), strict=True
    ):
        assert one == pytest.approx(other)


def test_energy_is_kept_without_damping_and_only_falls_with_it():
    """v^2 + w^2 x^2 stays, or goes down all the time."""
    time, omega = np.linspace(0.0, 3.0, 400), np.array(9.0)
    for damping, kept in ((0.0, True), (0.05, False)):
        offset, speed = swung(np.array(0.3), np.array(1.0), omega, damping, time)
        energy = speed**2 + omega**2 * offset**2
        assert bool(np.ptp(energy) < 1e-9) is kept
        assert (np.diff(energy) < 1e-9).all()


def test_nothing_pulls_without_weight():
    """What moves goes on moving."""
    offset, speed = swung(np.array(0.1), np.array(0.2), np.array(0.0), 0.05, np.array(3.0))
    assert (offset, speed) == pytest.approx((0.7, 0.2))
