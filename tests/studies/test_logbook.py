"""What follows from a logbook: bands by published figures, timer, drift and dates by hand."""

from datetime import date
from types import SimpleNamespace

import pytest

from plumbing import api
from plumbing.layout import read, starter
from plumbing.model.logbook import Entry, burnt
from plumbing.results import NotComputed
from plumbing.studies.logbook import jobs
from plumbing.studies.logbook.burn import burn, burn_findings
from plumbing.studies.logbook.statistics import line_through, mean_of
from plumbing.studies.logbook.trends import trend_findings, trends
from plumbing.studies.logbook.upkeep import Use, due, due_findings

SLEEP = (1.2, 2.4, 1.3, 1.3, 0.0, 1.0, 1.8, 0.8, 4.6, 1.4)
X = (10, 8, 13, 9, 11, 14, 6, 4, 12, 7, 5)
Y = (8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68)


@pytest.mark.outside("Student, The probable error of a mean (1908)", quantity="band of a mean")
def test_the_band_of_a_mean_is_the_published_one():
    """Hours of sleep gained: mean 1.58, 95 % band from 0.70 to 2.46. From memory."""
    found = mean_of(SLEEP)
    assert found.value == pytest.approx(1.58)
    assert found.value - found.band == pytest.approx(0.7001142, abs=1e-6)
    assert found.value + found.band == pytest.approx(2.4598858, abs=1e-6)


def test_the_next_value_is_bounded_as_the_formula_has_it():
    """Nine degrees of freedom: t = 1.8331 for one in twenty; spread 1.2300, root of 1.1."""
    assert mean_of(SLEEP).beyond == pytest.approx(1.8331 * 1.2300 * 1.1**0.5, rel=1e-4)


def test_one_value_has_no_band():
    """Nothing is known of how values differ where there is but one."""
    assert mean_of([3.0]).band == float("inf")


@pytest.mark.outside("Anscombe, Graphs in statistical analysis (1973)", quantity="slope, its error")
def test_slope_and_band_are_the_published_ones():
    """First set of four: slope 0.5001 with a standard error of 0.1179; t = 2.2622 for 9."""
    points = sorted(zip(X, Y, strict=True))
    found = line_through(*zip(*points, strict=True))
    assert found.slope == pytest.approx(0.5001, abs=5e-5)
    assert found.band == pytest.approx(2.2622 * 0.1179, abs=2e-4)
    assert found.start == pytest.approx(3.0001 + 0.5001 * 4, abs=1e-3)
    assert found.certain


def test_a_line_needs_three_points_at_different_places():
    """Two points have no band, and points above each other no slope."""
    assert line_through([0, 1], [1, 2]) is None
    assert line_through([1, 1, 1], [1, 2, 3]) is None


def flight(day, **values):
    """A flight in May."""
    return Entry(date=f"2026-05-{day:02}", kind="flight", **values)


@pytest.fixture(scope="module")
def layout():
    """A layout with one pump and one header."""
    return read(starter("single-main"))


def test_fuel_burnt_is_what_was_there_less_what_is_left():
    """Empty, 2.4 L in, 0.9 L left; 1.2 L more in, 0.5 L left."""
    rows = [flight(1, filled=2.4e-3, left=0.9e-3), flight(2, filled=1.2e-3, left=0.5e-3)]
    assert burnt(rows) == pytest.approx((1.5e-3, 1.6e-3))


def test_fuel_that_fills_it_again_is_the_burn():
    """Where nothing was drained or measured; the last flight is not known yet."""
    care = Entry(date="2026-05-02", kind="care", part="screen")
    rows = [flight(1, filled=2.4e-3), care, flight(2, filled=1.6e-3)]
    assert burnt(rows) == (pytest.approx(1.6e-3), None, None)


def test_after_a_flight_without_a_measure_nothing_is_known_of_what_is_on_board():
    """What was left of it may not be counted into the burn of the next."""
    rows = [flight(1, filled=2e-3), flight(2, filled=1e-3, left=0.5e-3)]
    assert burnt(rows) == (pytest.approx(1e-3), None)


FLOWN = SimpleNamespace(usable=2.5e-3, reserve=0.5e-3, timer=240.0, mean_flow=4e-6)


def burning(*litres, minutes=10.0):
    """Flights of ten minutes, each from empty to empty."""
    return [
        flight(day, filled=fuel * 1e-3, left=0.0, time=60.0 * minutes)
        for day, fuel in enumerate(litres, 1)
    ]


def test_timer_follows_from_the_burn_by_hand(layout):
    """2, 2.2 and 2.4 L in 10 min: 220 ml/min; 2 L to the reserve last 9 min 5 s, less a circuit.

    The spread is 20 ml/min and t = 2.920 for two degrees of freedom, so that the next flight
    burns up to 220 + 2.920 x 20 x root of 4/3 = 287.4 ml/min: 6 min 57 s, less a minute, in steps
    of 15 s 5 min 45 s.
    """
    found = burn(layout, FLOWN, burning(2.0, 2.2, 2.4))
    assert found.flow.value == pytest.approx(220e-6 / 60)
    assert found.timer.value == pytest.approx(60 * (2000 / 220 - 1))
    assert found.most == pytest.approx(287.43e-6 / 60, rel=1e-4)
    assert found.timer.band[0] == pytest.approx(60 * (2000 / 287.43 - 1), rel=1e-4)
    assert found.to_set == 345.0


def test_timer_in_use_is_that_of_the_layout_and_is_judged(layout):
    """A timer of 9 min with 220 ml/min leaves 300 ml of 2.5 L: less than the reserve."""
    from dataclasses import replace

    own = replace(layout, papers=replace(layout.papers, timer=540.0))
    found = burn(own, FLOWN, burning(2.2, 2.2, 2.2))
    assert found.left.value == pytest.approx(300e-6)
    assert any(one.part == "timer" for one in burn_findings(own, found))
    short = replace(layout, papers=replace(layout.papers, timer=300.0))
    assert not list(burn_findings(short, burn(short, FLOWN, burning(2.4, 2.4, 2.4))))


def test_flow_beyond_its_tolerance_is_told(layout):
    """Twelve per cent is the usual tolerance; 4e-6 m3/s are 240 ml/min."""
    usual = layout.tolerances.flow
    for litres, told in ((2.4 * (1 + 0.9 * usual), False), (2.4 * (1 + 1.1 * usual), True)):
        found = burn(layout, FLOWN, burning(*[litres] * 3))
        assert any(one.part == "flow" for one in burn_findings(layout, found)) is told


@pytest.mark.parametrize("litres", [(), (2.0,), (0.2, 2.4)])
def test_too_few_flights_give_a_reason(layout, litres):
    """None, one, and two that have nothing to do with each other."""
    assert isinstance(burn(layout, FLOWN, burning(*litres)), NotComputed)


def reading(*volts, hours=1.0, **more):
    """Flights of an hour with the pump's voltage, one after the other."""
    return [flight(day, time=3600.0 * hours, volts=one, **more) for day, one in enumerate(volts, 1)]


def test_effort_that_grows_by_more_than_a_tenth_is_told(layout):
    """4 V when it begins: 4.4 V is the limit, on either side of it."""
    for step, told in ((0.099, False), (0.101, True)):
        (found,) = trends(layout, reading(*(4.0 * (1 + step * k / 4) for k in range(5))), {})
        assert found.beyond is told
        assert bool(list(trend_findings([found]))) is told


def test_effort_that_falls_is_told_as_air_or_a_leak(layout):
    """A pump that has less to do moves something else than fuel."""
    (found,) = trends(layout, reading(4.0, 3.8, 3.6, 3.4), {})
    (told,) = trend_findings([found])
    assert "air" in told.advice


def test_a_trend_says_when_the_limit_comes(layout):
    """4.0, 4.1, 4.2 V after 1, 2, 3 h: 0.1 V an hour, 0.2 V to go."""
    (found,) = trends(layout, reading(4.0, 4.1, 4.2), {})
    assert found.hours_left == pytest.approx(2.0)


def test_scatter_is_no_trend(layout):
    """Readings up and down have a slope whose band holds none."""
    (found,) = trends(layout, reading(4.0, 4.2, 3.9, 4.1, 4.0), {})
    assert not found.line.certain
    assert found.hours_left is None


def test_what_was_cleaned_begins_anew(layout):
    """After care of the filter the voltage is compared with the first one after it."""
    name = next(iter(layout.filters))
    care = Entry(date="2026-05-04", kind="care", part=name)
    rows = [*reading(4.0, 4.3, 4.6), care, flight(5, time=3600.0, volts=4.0)]
    (found,) = trends(layout, rows, {})
    assert found.values == (4.0,)
    assert not found.beyond


def test_readings_of_two_pumps_are_apart():
    """The part of the row says which pump was read."""
    twin = api.load("layouts/twin.yaml")
    one, other = twin.pumps
    rows = [*reading(4.0, 4.1, part=one), *reading(5.0, 5.1, part=other)]
    assert {found.part: found.values for found in trends(twin, rows, {})} == {
        one: (4.0, 4.1),
        other: (5.0, 5.1),
    }


def test_air_in_the_header_is_held_to_its_limit(layout):
    """The limit is the one of the check, as a volume."""
    rows = [flight(day, time=3600.0, header_air=day * 1e-6) for day in (1, 2, 3)]
    for most, told in ((2.9e-6, True), (3.1e-6, False)):
        (found,) = trends(layout, rows, {"header": most})
        assert found.beyond is told


LIMITS = {"hose-overdue": 2 * 31557600.0, "fitting-overdue": 2 * 31557600.0}
NEVER = Use(1e9, 1e9)


def day_due(layout, rows, part, use=NEVER, today=date(2026, 6, 1)):
    """When a job is due."""
    return next(one for one in due(jobs(layout, LIMITS), use, rows, today) if one.job.part == part)


def test_a_yearly_job_is_due_a_year_after_it_was_done(layout):
    """365.25 days after the care; without one, after the first row."""
    name = next(iter(layout.filters))
    rows = [flight(1), Entry(date="2026-05-20", kind="care", part=name)]
    assert day_due(layout, rows, name).on == "2027-05-20"
    assert day_due(layout, rows[:1], name).on == "2027-05-01"


def test_an_age_in_the_layout_counts(layout):
    """Renewed every year, a hose of 5 months has 7 left: 213 days from the first row."""
    found = next(one for one in jobs(layout, LIMITS) if one.rule == "hose-overdue" and one.age)
    assert found.age == pytest.approx(5 / 12 * 31557600.0), "as the starter states it"
    assert found.every == 31557600.0, "as the starter states it"
    assert day_due(layout, [flight(1)], found.part).on == "2026-11-30"


@pytest.mark.parametrize(
    ("use", "over"),
    [
        (Use(7199.0, 1.0), True),
        (Use(7201.0, 1.0), False),
        (Use(1e9, 3.9e-3), True),
        (Use(1e9, 4.1e-3), False),
    ],
)
def test_hours_and_litres_make_a_job_due_as_well(layout, use, over):
    """Two hours and four litres since the first row."""
    name = next(iter(layout.filters))
    rows = [flight(day, filled=2e-3, left=0.0, time=3600.0) for day in (1, 2)]
    found = day_due(layout, rows, name, use)
    assert found.overdue is over
    assert bool(list(due_findings([found]))) is over


def test_the_calendar_makes_a_job_due_the_day_after(layout):
    """On the day itself it is due, the day after it is overdue."""
    name = next(iter(layout.filters))
    for day, over in ((1, False), (2, True)):
        assert day_due(layout, [flight(1)], name, today=date(2027, 5, day)).overdue is over
