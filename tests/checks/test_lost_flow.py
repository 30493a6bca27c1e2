"""Suction that no fuel bears: the flow that can be had, the engine that stops, the exit code."""

from dataclasses import replace

import pytest
from click.testing import CliRunner
from overlay import overlaid

from plumbing import api
from plumbing.cli import main
from plumbing.findings import Severity
from plumbing.layout import starter
from plumbing.network import survey
from plumbing.physics.dissolved_air import void_fraction
from plumbing.physics.pumps import SUCTION_LIMIT
from plumbing.report.fly_text import fly_text
from plumbing.simulation.peak import peak_flow

SCREEN = "filters: {{screen: {{clean-drop: {kpa} kPa, dirty-drop: null, drop-flow: 200 ml/min}}}}"


def screened(kpa: float):
    """The plainest starter with a screen that takes so much at 200 ml/min [kPa]."""
    return overlaid("single-main", SCREEN.format(kpa=kpa))


def unsafe(layout) -> set[str]:
    """Checks that find it unsafe."""
    verdict = api.check(layout).verdict
    return {one.check for one in verdict.at_or_above(Severity.UNSAFE)}


@pytest.mark.outside(
    "Henry's law by hand: 0.15 (40 / 61.3) = 0.098 volumes of air", quantity="lost flow"
)
def test_a_tenth_of_what_the_pump_draws_is_air_where_it_loses_its_flow():
    """Fuel that holds 0.15 volumes of air gives up a tenth of its volume at the limit."""
    ratio = 0.15 * 40.0 / (101.325 - 40.0)
    air = float(void_fraction(0.15, 101325.0, 101325.0 - SUCTION_LIMIT))
    assert air == pytest.approx(ratio / (1.0 + ratio))
    assert air == pytest.approx(0.09, abs=0.005)


@pytest.mark.parametrize("kpa", [30.0, 110.0, 500.0])
def test_the_flow_that_can_be_had_needs_just_the_suction_that_is_borne(kpa):
    """An engine that asks for no more than that flow stands at the limit in its hardest case."""
    layout = screened(kpa)
    first = peak_flow(layout, survey(layout)).engines["engine"]
    assert first.hardest.suction.value > SUCTION_LIMIT
    assert first.flow_had < first.flow
    less = replace(layout.engines["engine"], full_flow=first.flow_had)
    modest = replace(layout, engines={"engine": less})
    again = peak_flow(modest, survey(modest)).engines["engine"]
    assert again.hardest.suction.value == pytest.approx(SUCTION_LIMIT, rel=0.03)


def test_below_the_limit_the_whole_flow_is_had():
    """A good layout has its full flow in every case."""
    layout = overlaid("single-main", "notes: as it is")
    peak = peak_flow(layout, survey(layout)).engines["engine"]
    assert peak.flow_had == peak.flow
    assert peak.hardest.suction.value >= max(
        one.suction.value for one in (peak.coldest, peak.loaded, peak.dirty)
    )


@pytest.mark.parametrize("kpa", [90.0, 110.0, 1000.0])
def test_a_screen_that_asks_for_a_vacuum_is_unsafe(kpa):
    """Whether it asks for less than an atmosphere of suction or for more."""
    found = unsafe(screened(kpa))
    assert {"pump-loses-its-flow", "inlet-suction-too-high", "engine-stops-in-flight"} <= found


def test_an_engine_stops_where_its_pump_loses_its_flow():
    """The flight ends there: not flown to the end, nothing to land with, and it says why."""
    layout = screened(110.0)
    flown = api.fly(layout)
    (stop,) = flown.flame_out.values()
    assert stop is not None
    assert flown.history.time[-1] == pytest.approx(stop, abs=0.05)
    assert flown.landed_with == 0.0
    assert flown.timer == 0.0
    words = " ".join(fly_text(layout, flown).split())
    assert "Flown to the end" not in words
    assert "at 40 kPa of suction its pump draws vapour and air" in words


def test_what_is_not_judged_does_not_exit_with_0(tmp_path):
    """A layout whose filling cannot be computed is not judged: in the headline, and by the code."""
    text = starter("single-main")
    begin = text.index("  fill: {from: fill.tube")
    end = text.index("  tee to shut-off:")
    path = tmp_path / "a.yaml"
    path.write_text(text[:begin] + text[end:], encoding="utf-8")
    for options, code in (((), 1), (("--fail-on", "unsafe"), 1), (("--fail-on", "never"), 0)):
        done = CliRunner().invoke(main, ["check", str(path), *options])
        assert done.exit_code == code
        assert "Not judged: filling through fill" in done.output
    whole = tmp_path / "b.yaml"
    whole.write_text(text, encoding="utf-8")
    assert CliRunner().invoke(main, ["check", str(whole)]).exit_code == 0
