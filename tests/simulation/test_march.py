"""Marching: against closed forms, at its edges, and many at once as one by one."""

import math
from dataclasses import replace

import numpy as np
import pytest
from flight_rigs import chained, single, steady, teed
from hypothesis import given, settings
from hypothesis import strategies as st

from plumbing.errors import SolveError
from plumbing.network import survey
from plumbing.simulation.flight import feeding_for
from plumbing.simulation.fluid import fluids_at
from plumbing.simulation.march import march
from plumbing.simulation.moment import Balance, FlameOut, Stretches
from plumbing.simulation.tankage import tankage

LEVEL = np.array([[0.0, 0.0, -1.0]])
TANKS = tankage(single(), LEVEL, moments=False)
ONE = np.ones((1, 1), dtype=bool)  # one engine, one pump
CAPACITY = float(TANKS.capacity[0])


def going(*durations):
    """Stretches in level flight."""
    return Stretches(np.array(durations, float), np.zeros(len(durations), dtype=np.intp))


def balance_of(volume, rate, burnt, share, spilt):
    """A balance with one outlet and no pressures."""
    none, met = np.zeros((len(volume), 0)), np.ones(len(volume), dtype=bool)
    still = np.zeros_like(rate)
    spilt = np.reshape(spilt, (-1, 1))
    return Balance(volume, still, rate, still, burnt, burnt, share, spilt, none, met, met)


def balanced(rate, share=lambda volume: np.ones(len(volume))):
    """A network that only knows a rate of change and a share, as functions of the volume."""

    def balance(rows, stretch, volume, gas, draws):
        change = rate(volume[:, 0])[:, None]
        return balance_of(
            volume, change, -change, share(volume[:, 0])[:, None], np.zeros(len(rows))
        )

    return balance


def run(rate, volume, *durations, **more):
    """March one tank."""
    start = np.atleast_2d(np.asarray(volume, float)).T
    return march(TANKS, going(*durations), start, balanced(rate), **more)


@pytest.mark.outside("closed form: q t", quantity="fuel in a tank")
def test_constant_flow_is_exact():
    """A constant flow takes q t, to rounding."""
    q = 2e-6
    end = run(lambda v: np.full_like(v, -q), CAPACITY, 100.0)
    assert end.volume[0, 0] == pytest.approx(CAPACITY - 100.0 * q, rel=1e-12)
    assert end.burnt[0, 0] == pytest.approx(100.0 * q, rel=1e-12)
    assert end.time[0] == pytest.approx(100.0, abs=1e-3)


@pytest.mark.parametrize("level", [0.0, 1.0])
def test_rounding_in_a_full_or_empty_tank_does_not_hold_up_the_rest(level):
    """A second tank, full or empty, with a flow of rounding size leaves the steps as they are."""
    q, tiny = 2e-6, 2e-16 if level else -2e-16

    def balance(rows, stretch, volume, gas, draws):
        change = np.tile([-q, tiny], (len(rows), 1))
        return balance_of(
            volume, change, np.full((len(rows), 1), q), np.ones((len(rows), 1)), 0.0 * rows
        )

    calls = []
    tanks = tankage(chained(), LEVEL, moments=False)
    start = np.array([[0.9, level]]) * tanks.capacity
    end = march(tanks, going(100.0), start, balance, see=calls.append)
    assert end.volume[0, 0] == pytest.approx(start[0, 0] - 100.0 * q, rel=1e-12)
    assert len(calls) < 10


@pytest.mark.outside("closed form: exponential decay", quantity="fuel in a tank")
def test_flow_that_falls_with_the_level():
    """A flow in proportion to the fuel leaves V exp(-t / tau); finer steps come nearer."""
    tau = 60.0
    exact = CAPACITY * math.exp(-2.0)
    errors = []
    for tolerance in (1e-3, 1e-4, 1e-5):
        end = run(lambda v: -v / tau, CAPACITY, 2.0 * tau, tolerance=tolerance)
        errors.append(abs(end.volume[0, 0] - exact) / CAPACITY)
    assert errors[0] < 1e-3
    assert errors[2] < errors[1] < errors[0]
    assert errors[2] < 1e-5


def test_step_ends_at_a_mark_though_the_rate_jumps_there():
    """Where the flow stops at once at a mark, nothing is taken below it."""
    mark = float(TANKS.vessels[0].covered["feed"][0])
    end = run(lambda v: np.where(v > mark * (1 + 1e-9), -2e-6, 0.0), CAPACITY, 1000.0)
    assert end.volume[0, 0] == pytest.approx(mark, rel=1e-3)


@pytest.mark.parametrize("rate", [-5e-6, 5e-6])
def test_volume_stays_between_empty_and_full(rate):
    """A rate that would overfill or overdraw is cut there; a run that stands still says so."""
    seen = []

    def watch(moment):
        seen.append(moment.volume.copy())

    with pytest.raises(SolveError, match="does not go on after"):
        run(lambda v: np.full_like(v, rate), 0.5 * CAPACITY, 1000.0, see=watch)
    volumes = np.concatenate(seen)
    assert volumes.min() >= -1e-12 * CAPACITY
    assert volumes.max() <= CAPACITY * (1.0 + 1e-12)


def test_a_surface_that_hangs_at_a_mouth_spills_what_comes_in():
    """Filled at q, and emptied at three times that once it reaches a mouth: for ever at its rim.

    By hand: what has come in is in the tank up to the rim or spilt; an hour in few steps.
    """
    q, rim = 2e-6, 0.37 * CAPACITY
    seen = []

    def balance(rows, stretch, volume, gas, draws):
        lost = np.where(volume[:, 0] > rim, 3.0 * q, 0.0)
        none = np.zeros((len(rows), 1))
        return balance_of(volume, (q - lost)[:, None], none, none + 1.0, lost)

    end = march(TANKS, going(3600.0), np.array([[0.0]]), balance, see=lambda one: seen.append(one))
    assert end.volume[0, 0] == pytest.approx(rim, abs=2e-3 * CAPACITY)
    assert end.volume[0, 0] + end.spilt[0, 0] == pytest.approx(3600.0 * q, rel=1e-9)
    assert end.time[0] == pytest.approx(3600.0, abs=1e-3)
    assert len(seen) < 200


def test_a_surface_lets_go_of_a_mouth_when_more_is_drawn():
    """The same with twice as much drawn in a later stretch: the surface falls at once."""
    q, rim = 2e-6, 0.37 * CAPACITY

    def balance(rows, stretch, volume, gas, draws):
        lost = np.where(volume[:, 0] > rim, 3.0 * q, 0.0)
        drawn = np.where(stretch > 0, 2.0 * q, 0.0)
        rate = (q - lost - drawn)[:, None]
        return balance_of(volume, rate, drawn[:, None], np.ones((len(rows), 1)), lost)

    end = march(TANKS, going(300.0, 60.0), np.array([[rim]]), balance)
    assert end.volume[0, 0] == pytest.approx(rim - 60.0 * q, abs=2e-3 * CAPACITY)
    assert end.burnt[0, 0] == pytest.approx(120.0 * q, rel=1e-9)


def test_stretches_are_met_exactly():
    """Each stretch begins when the one before ends, however short."""
    seen = []
    run(
        lambda v: np.full_like(v, -1e-6),
        CAPACITY,
        *(10.0, 0.0, 1e-5, 5.0),
        see=lambda moment: seen.append((float(moment.time[0]), int(moment.stretch[0]))),
    )
    begins = {stretch: time for time, stretch in reversed(seen)}
    assert begins[4] == pytest.approx(15.0, abs=1e-3)
    assert begins[1] == pytest.approx(10.0, abs=1e-3)


def test_dry_time_counts_from_where_too_much_is_missing():
    """Without fuel means less liquid than stated, counted from that moment, to a run's end."""
    q = CAPACITY / 100.0
    end = march(
        TANKS,
        going(80.0),
        np.array([[CAPACITY]]),
        balanced(lambda v: np.full_like(v, -q), lambda v: np.clip(v / CAPACITY, 0.0, 1.0)),
        flame_out=FlameOut(np.full((1, 1), 0.7), np.inf, ONE),
    )
    assert end.dry[0, 0] == pytest.approx(50.0, abs=0.1)


def test_patience_ends_the_run_at_its_moment():
    """A run that is stopped half a second after the fuel stops does not go on for seconds more."""
    q = CAPACITY / 100.0
    end = march(
        TANKS,
        going(500.0),
        np.array([[CAPACITY]]),
        balanced(lambda v: np.full_like(v, -q), lambda v: np.clip(v / CAPACITY, 0.0, 1.0)),
        stop=lambda moment: (moment.dry >= 0.5).all(axis=1),
        flame_out=FlameOut(np.full((1, 1), 0.5), 0.5, ONE),
    )
    assert end.time[0] == pytest.approx(50.5, abs=0.05)


def test_scenarios_already_over_do_not_move():
    """A scenario that is stopped at the start keeps its fuel while others march on."""
    end = march(
        TANKS,
        going(100.0),
        np.array([[CAPACITY], [0.25 * CAPACITY]]),
        balanced(lambda v: np.full_like(v, -1e-7)),
        stop=lambda moment: moment.volume[:, 0] < 0.5 * CAPACITY,
    )
    assert end.time[1] == 0.0
    assert end.volume[1, 0] == 0.25 * CAPACITY
    assert end.time[0] == pytest.approx(100.0, abs=1e-3)


@pytest.mark.parametrize("layout", [chained(), teed()], ids=["tree", "loop"])
def test_many_march_as_each_alone(layout):
    """Four flights at once, of other flows and temperatures, end as each would alone."""
    feeding = feeding_for(layout, survey(layout), steady(300.0))
    factors, celsius = np.array([0.6, 0.9, 1.0, 1.3]), np.array([-5.0, 10.0, 20.0, 38.0])
    start = 0.98 * feeding.tanks.capacity

    def ended(some):
        several = replace(
            feeding,
            flow=feeding.flow * factors[some][:, None, None],
            fluids=fluids_at(layout, celsius[some]),
        )
        return march(
            feeding.tanks,
            Stretches(np.array([300.0]), feeding.index),
            np.tile(start, (len(some), 1)),
            several.balance,
        )

    together = ended(np.arange(4))
    for row in range(4):
        alone = ended(np.array([row]))
        assert together.volume[row] == pytest.approx(alone.volume[0], rel=1e-6, abs=1e-10)
        assert together.burnt[row] == pytest.approx(alone.burnt[0], rel=1e-9)


@given(
    start=st.floats(0.0, 1.0),
    rates=st.lists(st.floats(-1e-5, 1e-5), min_size=1, max_size=4),
    lasts=st.floats(0.0, 50.0),
)
@settings(max_examples=40, deadline=None)
def test_volume_and_burnt_always_add_up(start, rates, lasts):
    """Rates that respect empty and full: what leaves the tank is what is taken."""
    rate = np.array(rates)

    def change(volume):
        wanted = np.interp(volume / CAPACITY, np.linspace(0.0, 1.0, len(rate)), rate)
        fade = np.clip(np.where(wanted < 0.0, volume, CAPACITY - volume) / (0.1 * CAPACITY), 0, 1)
        return wanted * fade

    end = run(change, start * CAPACITY, lasts, lasts)
    assert end.volume[0, 0] + end.burnt[0, 0] == pytest.approx(start * CAPACITY, abs=1e-15)
    assert -1e-12 <= end.volume[0, 0] / CAPACITY <= 1.0 + 1e-12
