"""Why a result is missing reaches the user in its own words, wherever the result would stand."""

import json
from pathlib import Path

import pytest
from overlay import overlaid

from plumbing import api
from plumbing.checks.case import Case
from plumbing.checks.counted import counted
from plumbing.checks.examined import Examined
from plumbing.checks.run import judge
from plumbing.layout import load
from plumbing.report.as_json import check_json
from plumbing.report.asbuilt import asbuilt_json, asbuilt_text
from plumbing.report.dossier.contents import contents
from plumbing.report.fill_text import fill_text
from plumbing.report.ground_json import fill_json, park_json
from plumbing.report.html.contents import tables_of, tiles
from plumbing.report.park_text import park_text
from plumbing.report.subject import Subject
from plumbing.report.text import check_text
from plumbing.results import NotComputed, Results
from plumbing.studies.study import load_study, plan_of
from plumbing.studies.study.one import row_of

LAYOUTS = Path(__file__).parents[2] / "layouts"


def reasons() -> dict[str, NotComputed]:
    """A reason for each result, with a word of its own."""
    names = ("peak", "flight", "filling", "draining", "parking", "faults")
    return {name: NotComputed(name, f"why{name}", "engine") for name in names}


@pytest.fixture(scope="module")
def nothing() -> Subject:
    """The twin with nothing computed, each result for a reason of its own."""
    case = Case(load(str(LAYOUTS / "teed-pair.yaml")))
    why = reasons()
    peak = Case(case.layout).peak
    vars(case).update(
        why,
        peak=type(peak)(Results({"engine": why["peak"]}), peak.celsius, {}),
        filling=Results({"fill": why["filling"]}),
        draining=Results({"fill": why["draining"]}),
    )
    return Subject(Examined(case, judge(case)))


@pytest.mark.quick("peak")
@pytest.mark.parametrize("name", reasons())
def test_every_reason_is_in_each_report(nothing, name):
    """Text, JSON, page and dossier of a check each hold the very words of each reason."""
    words = f"why{name}"
    data = json.loads(check_json(nothing.examined))
    whole = {
        "text": check_text(nothing, full=True),
        "json": data["not_computed"].values(),
        "page": str((tiles(nothing), tables_of(nothing), nothing.lacking())),
        "dossier": str(contents(nothing)),
    }
    if name == "faults":  # with one engine no check asks for single faults
        assert words in whole["page"]
        assert words in whole["dossier"]
        return
    assert [where for where, said in whole.items() if words not in said] == []
    assert any(words in one["why"] for one in data["unchecked"])


def test_a_fill_port_that_nothing_joins_is_said_to_be_so():
    """Without its fill line the plainest starter cannot be filled: no line joins its fill port."""
    layout = overlaid("single-main", "lines: {fill: null}")
    words = "no open line joins fill port fill to a tank"
    examined, filled = api.check(layout), api.fill(layout)
    assert words in " ".join(check_text(Subject(examined), full=True).split())
    assert words in json.loads(check_json(examined))["not_computed"].values()
    assert "fill-against-closed-vent" not in {one.check for one in examined.findings}
    assert words in " ".join(fill_text(layout, filled).lower().split())
    assert words in json.loads(fill_json(filled))["not_computed"].values()


def test_without_a_fill_port_nothing_is_clear_of_filling():
    """A layout without any fill port leaves what rests on filling unchecked, and says so."""
    gone = "{fill-ports: null, lines: {fill: null}, filling: {port: null}}"
    verdict = api.check(overlaid("single-main", gone)).verdict
    assert "air-trapped-after-filling" not in verdict.clear
    assert "the layout has no fill port" in {one.reason for one in verdict.not_computed}


def test_without_an_attitude_parking_says_so():
    """Where the file states no attitude, text and JSON of `park` say so, and so does the check."""
    layout = overlaid("single-main", "parking: null")
    words = "the layout states no attitude under parking"
    parked = api.park(layout)
    assert words in park_text(layout, parked).lower()
    assert words in json.loads(park_json(parked))["not_computed"].values()
    verdict = api.check(layout).verdict
    assert "fuel-runs-out-when-parked" in {one.check for one in verdict.unchecked}


def test_a_bench_value_that_is_not_predicted_says_why():
    """A filling that cannot be computed is told beside the value measured for it."""
    lines = "lines: {fill: null}, measured: {a: {what: fill-volume, volume: 1 L}}"
    layout = overlaid("single-main", f"{{{lines}}}")
    compared = api.asbuilt(layout)
    words = "no open line joins fill port fill to a tank"
    assert words in " ".join(asbuilt_text(layout, compared).split())
    (one,) = json.loads(asbuilt_json(layout, compared))["measured"]
    assert words in one["not_computed"].values()


def test_a_study_says_why_a_cell_is_empty(tmp_path):
    """A variant whose valve is shut stops at once; its suction is empty, with the reason."""
    study = tmp_path / "study.yaml"
    study.write_text(
        f"study: 1\ntitle: taps\nlayout: [{LAYOUTS / 'single-main.yaml'}]\n"
        "vary: {valves.shut-off.flight: [open, closed]}\n"
        "results: [endurance, suction, unchecked]\n",
        encoding="utf-8",
    )
    plan = plan_of(load_study(study))
    shut, whole = (row_of(plan, number, counted) for number in range(2))
    assert None not in whole.results
    assert whole.fault == ""
    assert shut.results[:2] == (0.0, None)
    assert shut.fault == "peak flow of engine: no fuel can reach engine: shut-off bars the way"
