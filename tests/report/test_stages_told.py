"""What is due at a later stage is told on the screen, in JSON, on the page and in the dossier."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from tempfile import mkdtemp

import jsonschema
import pytest
from pictures import png

from plumbing.checks.examined import Examined, examine
from plumbing.layout import read, starter
from plumbing.model.measured import Measured
from plumbing.report.as_json import check_data
from plumbing.report.cards.bench import bench_cards
from plumbing.report.dossier.contents import contents
from plumbing.report.html import html_page
from plumbing.report.json_schema import check_schema
from plumbing.report.sheets.stages import verdicts
from plumbing.report.subject import Subject
from plumbing.report.text import check_text
from plumbing.studies.bench import Mark, Reading

WATER = "measured 21 kPa on 2026-05-01 by builder with water column"


@cache
def examined() -> Examined:
    """A starter of which nothing is built, but one tank was tried with a photo."""
    evidence = f"{{is: {WATER}, note: second try, photo: tank.jpg}}"
    text = starter("single-main").replace("leak-tested: open", f"leak-tested: {evidence}", 1)
    folder = Path(mkdtemp())
    (folder / "tank.jpg").write_bytes(png())
    return examine(read(text, str(folder / "mine.yaml")))


def test_the_screen_counts_what_is_due_by_stage() -> None:
    """Three stages are to come, each with statements; none of them counts as clear."""
    one = examined()
    due = [len(found) for found in Subject(one).open().values()]
    assert all(due)
    words = f"Due: {due[0]} when built, {due[1]} when bench-tested and {due[2]} when flown."
    assert words in check_text(Subject(one))
    assert not {entry.check for entry in one.verdict.due} & set(one.verdict.clear)
    full = check_text(Subject(one), full=True)
    for stage in ("built", "bench-tested", "flown"):
        assert f"Due when {stage}" in full
    assert "safety.helper-briefed: open" in " ".join(full.split())


def test_json_has_stage_due_and_evidence() -> None:
    """It follows its schema, and says what the file says."""
    data = check_data(examined())
    jsonschema.validate(data, check_schema())
    assert data["stage"] == "drawing"
    assert {one["stage"] for one in data["due"]} == {"built", "bench-tested", "flown"}
    assert all(one["line"] for one in data["due"])
    (evidence,) = data["evidence"]
    assert evidence["value"] == "21 kPa"
    assert (evidence["note"], evidence["photo"]) == ("second try", "tank.jpg")


def test_page_and_dossier_have_what_is_open_and_the_evidence() -> None:
    """Each statement that is open, and each with evidence, stands in a table of both."""
    one = Subject(examined())
    page, made = html_page(one), contents(one)
    printed = str(made["stages"]).replace("\\u200b", "").replace("\u200b", "")
    for entry in examined().verdict.due:
        assert entry.statement in page
        assert entry.statement in printed
    for words in ("21 kPa", "second try", "tank.jpg", "water column"):
        assert words in page
        assert words in printed
    assert [row[1] for row in made["verdicts"]["rows"]] == ["now", "to come", "to come", "to come"]


@pytest.mark.parametrize(
    ("stage", "places"),
    [
        ("built", ["reached", "now", "to come", "to come"]),
        ("flown", ["reached", "reached", "reached", "now"]),
    ],
)
def test_verdict_by_stage_says_where_the_aircraft_is(stage: str, places: list[str]) -> None:
    """The stages behind, the one it is at, and those to come."""
    text = starter("single-main").replace("stage: drawing", f"stage: {stage}")
    table = verdicts(Subject(examine(read(text))))
    assert [row[1] for row in table.rows] == places


@pytest.mark.parametrize(("value", "passed"), [(15e3, "yes"), (6e3, "NO")])
def test_a_card_shows_the_reading_that_the_file_has(value: float, passed: str) -> None:
    """A reading is written once: the card prints it, with day, name and instrument."""
    mark = Mark("tank-pressure", "main", "pressure", 10e3, None, "common practice")
    asked = Reading("tank-pressure", "main", "", "under water", None, mark)
    done = Measured(
        name="a",
        what="tank-pressure",
        part="main",
        pressure=value,
        on="2026-05-01",
        by="builder",
        instrument="water column",
    )
    card = bench_cards((asked,), [done])[0]
    assert [(row.read, row.passed) for row in card.rows] == [(f"{value / 1e3:g} kPa", passed)]
    assert card.signed == ("2026-05-01", "builder", "water column")
    assert bench_cards((asked,))[0].rows[0].read == ""
