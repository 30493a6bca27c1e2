"""Measured values against predicted ones."""

from __future__ import annotations

import csv
import json
import math
from dataclasses import replace
from functools import cache
from io import StringIO
from pathlib import Path

import pytest
from click.testing import CliRunner

from plumbing import api
from plumbing.checks.case import Case
from plumbing.checks.pass_marks import pass_marks
from plumbing.cli import main
from plumbing.findings import Figure
from plumbing.model.measured import MEASURES, Measured
from plumbing.network import survey
from plumbing.report.asbuilt import asbuilt_csv, asbuilt_json, asbuilt_text
from plumbing.simulation.peak import peak_flow
from plumbing.studies.bench import compare, predict
from plumbing.studies.bench.meaning import meaning_of, narrowed, orifice_bore
from plumbing.studies.bench.predictions import friction
from plumbing.studies.bench.rundown import rundown

LAYOUTS = Path(__file__).parents[2] / "layouts"


@cache
def layout():
    """The twin."""
    return api.load(LAYOUTS / "twin.yaml")


@cache
def predicted():
    """Its predictions."""
    found = survey(layout())
    return predict(layout(), found, peak_flow(layout(), found))


@cache
def marks():
    """What its readings must meet."""
    return pass_marks(Case(layout()))


def measured(**values):
    """The twin with one measured value, compared."""
    one = Measured(name="m", **values)
    return compare(replace(layout(), measured={"m": one}), survey(layout()), marks())[0]


@pytest.mark.outside(
    "orifice equation by hand: 500 ml/min of 800 kg/m3 at 5 kPa with C = 0.61 needs 3.86 mm2",
    quantity="bore of an orifice",
)
def test_the_hole_that_costs_a_drop():
    """A hole of 2.218 mm: sqrt(2 x 5000 / 800) = 3.536 m/s, 8.333e-6 / (0.61 x 3.536) m2."""
    assert orifice_bore(500e-6 / 60, 5e3, 800.0) == pytest.approx(2.218e-3, rel=1e-3)


@pytest.mark.outside("Hagen-Poiseuille: loss goes with the inverse fourth power", quantity="bore")
def test_a_bore_narrowed():
    """Half the bore costs sixteen times as much."""
    assert narrowed(4e-3, 16.0) == pytest.approx(2e-3)


@pytest.mark.parametrize(
    ("what", "field"),
    [
        ("inlet-suction", "pressure"),
        ("fill-pressure", "pressure"),
        ("fill-volume", "volume"),
        ("drain-time", "time"),
        ("left-over", "volume"),
        ("pump-flow", "flow"),
        ("siphon-rate", "flow"),
    ],
)
def test_the_predicted_value_is_inside_its_band(what, field):
    """Whoever measures exactly what was predicted is inside the band."""
    one = predicted().find(what, None)
    compared = measured(what=what, part=one.part or None, **{field: one.figure.value})
    assert compared.verdict == "inside"
    assert compared.meaning is None


def test_every_band_holds_its_value():
    """No prediction lies outside its own band, and none is negative."""
    for one in predicted().values:
        assert one.figure.low <= one.figure.value <= one.figure.high
        assert one.figure.low >= 0.0 or one.what == "inlet-suction"
        assert all(math.isfinite(v) for v in (one.figure.low, one.figure.value, one.figure.high))


def test_a_planted_restriction_is_found_again():
    """The losses of a line narrowed on purpose are fitted by their true factor."""
    line = layout().lines["port screen to pump"]
    narrow = replace(layout().tube_of(line), name="narrow", inside_diameter=2.6e-3)
    lines = {**layout().lines, line.name: replace(line, tube="narrow", joint=None)}
    built = replace(layout(), lines=lines, tubes={**layout().tubes, "narrow": narrow})
    true = peak_flow(built, survey(built)).engines["port engine"]
    drawn = peak_flow(layout(), survey(layout())).engines["port engine"]
    compared = measured(
        what="inlet-suction",
        part="port pump",
        pressure=true.suction.value,
        at_flow=370e-6 / 60,
    )
    assert compared.verdict == "above"
    factor = friction(true) / friction(drawn)
    assert factor > 1.3
    assert compared.meaning.value.value == pytest.approx(factor, rel=0.02)
    assert "restriction" in compared.meaning.words


@pytest.mark.slow
def test_a_suction_below_the_band_points_to_a_leak():
    """Less suction than expected is read as air or less flow, not as good news."""
    compared = measured(what="inlet-suction", part="port pump", pressure=100.0)
    assert compared.verdict == "below"
    assert "air leaking in" in compared.meaning.words


@pytest.mark.slow
def test_fuel_left_over_is_read_as_stranded():
    """More fuel left than expected names the difference."""
    expected = predicted().find("left-over", "port main").figure
    compared = measured(what="left-over", part="port main", volume=expected.high + 1e-4)
    assert compared.verdict == "above"
    assert "stranded" in compared.meaning.words
    assert compared.meaning.value.value == pytest.approx(expected.high + 1e-4 - expected.value)


@pytest.mark.slow
def test_colder_fuel_at_the_bench_is_taken_into_account():
    """The prediction is for the temperature of the measurement."""
    warm = measured(what="inlet-suction", part="port pump", pressure=3e3, temperature=30.0)
    cold = measured(what="inlet-suction", part="port pump", pressure=3e3, temperature=-5.0)
    assert cold.prediction.figure.value > warm.prediction.figure.value


def test_a_value_of_the_wrong_kind_is_said():
    """A suction stated as a volume is no value, and is not passed."""
    assert measured(what="inlet-suction", part="port pump", volume=1e-3).verdict == "no value"


@pytest.mark.slow
def test_what_cannot_be_predicted_is_said():
    """A part the layout predicts nothing for is not compared."""
    compared = measured(what="fill-pressure", part="loom", pressure=1e3)
    assert compared.verdict == "not predicted"


@pytest.mark.outside("conservation of volume: 740 ml/min for the time taken", quantity="fuel drawn")
def test_the_drain_down_draws_what_its_flow_and_time_say():
    """Fuel drawn is the flow times the time, but for what the lines held and a second of mix.

    Air is at the engines when as much has been drawn as the lines hold.
    """
    run = rundown(layout(), survey(layout()))
    flow = 740e-6 / 60
    lines = sum(run.line_to_engine.values())
    assert flow * run.endurance - lines - 1.0 * flow < run.usable <= flow * run.endurance
    assert run.usable + sum(run.stranded.values()) == pytest.approx(run.on_board, rel=1e-2)


@pytest.mark.parametrize("above", [True, False])
@pytest.mark.parametrize("what", MEASURES)
def test_every_difference_has_a_meaning(what, above):
    """Whatever was measured, a value outside its band is explained, also where nothing is known."""
    said = meaning_of(what, above, 1.0, Figure(0.0, "ratio"), None, 800.0, None)
    assert len(said.words) > 20


@pytest.mark.slow
def test_text_json_and_csv_say_the_same():
    """The three forms agree on measured value and verdict."""
    one = Measured(name="=cmd", what="pump-flow", part="port pump", flow=1e-6)
    changed = replace(layout(), measured={"=cmd": one})
    compared = compare(changed, survey(changed), marks())
    assert "BELOW" in asbuilt_text(changed, compared)
    data = json.loads(asbuilt_json(changed, compared))["measured"][0]
    assert data["verdict"] == "below"
    assert data["measured"] == {"value": 1e-6, "unit": "m**3/s", "low": None, "high": None}
    row = list(csv.reader(StringIO(asbuilt_csv(compared))))[1]
    assert row[0] == "'=cmd"
    assert row[7] == "below"


@pytest.mark.slow
def test_the_command_tells_by_its_exit_code(tmp_path):
    """0 where nothing lies outside, 1 where something does, 2 for a broken file."""
    text = (LAYOUTS / "twin.yaml").read_text("utf-8")
    path = tmp_path / "mine.yaml"
    codes = []
    for more in ("", "measured:\n  a: {what: pump-flow, part: port pump, flow: 9 ml/min}\n", "x"):
        path.write_text(f"{text}\n{more}\n", "utf-8")
        codes.append(CliRunner().invoke(main, ["asbuilt", str(path)]).exit_code)
    assert codes == [0, 1, 2]
