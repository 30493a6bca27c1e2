"""Two states of a layout: what is said to have changed is what was changed, and no more."""

import json
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner

from plumbing import api
from plumbing.checks.causes import key
from plumbing.checks.examined import Examined, examine
from plumbing.cli import main
from plumbing.layout import read
from plumbing.report.comparison import compare_json, comparison
from plumbing.report.dossier import dossier
from plumbing.report.dossier.contents import contents
from plumbing.report.html import html_page
from plumbing.report.subject import Subject

LAYOUTS = Path(__file__).parents[2] / "layouts"
SINGLE = LAYOUTS / "single-main.yaml"


@cache
def state(was: str = "", by: str = "") -> Examined:
    """The plainest demo, with a text in its file changed."""
    text = SINGLE.read_text()
    assert was in text
    return examine(read(text.replace(was, by, 1), str(SINGLE)))


def test_a_layout_is_as_it_is() -> None:
    """Compared with itself nothing changed, and nothing is to be tested again."""
    same = comparison(state(), state())
    assert not same.changes
    assert not same.predictions
    assert not same.tests
    assert not same.outcome.clears
    assert not same.outcome.spoils


@pytest.mark.parametrize(
    ("was", "by", "what", "tests"),
    [
        ("pump-pressure: 40 kPa", "pump-pressure: 41 kPa", "filling.pump-pressure", ()),
        (
            "proof-pressure: 30 kPa",
            "proof-pressure: 31 kPa",
            "tanks.main.wall.proof-pressure",
            ("1 Tanks under pressure", "3 Suction side under vacuum", "5 Filling to the overflow"),
        ),
    ],
)
def test_one_value_changed_is_one_change(
    was: str, by: str, what: str, tests: tuple[str, ...]
) -> None:
    """The value stands there with what it was and what it is, and the tests of its part."""
    found = comparison(state(), state(was, by))
    assert [one.what for one in found.changes] == [what]
    assert found.changes[0].before in was
    assert found.changes[0].after in by
    assert set(tests) <= set(found.tests)
    assert bool(found.tests) == bool(tests)


def test_what_comes_one_way_goes_the_other() -> None:
    """Findings new from old to new are those gone from new to old."""
    forth = comparison(state(), state("timer: ", "timer: 5"))
    back = comparison(state("timer: ", "timer: 5"), state())
    came = {key(one) for one in forth.outcome.spoils}
    assert ("timer-too-long", "papers") in came
    assert came == {key(one) for one in back.outcome.clears}


def test_page_and_dossier_tell_it() -> None:
    """With an earlier state both have its tables: values, findings, what is to be done again."""
    since = comparison(state("timer: ", "timer: 5"), state())
    subject = Subject(state(), "1 May 2026", since)
    page = html_page(subject)
    for words in ("papers.timer", "timer-too-long", "To be tested again"):
        assert words in page
    titles = [one["title"] for one in contents(subject)["revision"]]
    assert "To be measured again" in titles
    assert contents(Subject(state()))["revision"] == []
    assert dossier(subject).startswith(b"%PDF")


def test_the_command_says_it(tmp_path: Path) -> None:
    """Exit code 1 where a fault is new, 0 the other way; the JSON is as its schema says."""
    path = tmp_path / "new.yaml"
    path.write_text(SINGLE.read_text().replace("timer: ", "timer: 5", 1))
    done = CliRunner().invoke(main, ["compare", str(SINGLE), str(path)])
    assert done.exit_code == 1
    assert "timer-too-long (fault) at papers" in done.output
    assert all(len(row) <= 80 for row in done.output.splitlines())
    done = CliRunner().invoke(main, ["compare", str(path), str(SINGLE), "--format", "json"])
    assert done.exit_code == 0
    data = json.loads(done.stdout)
    assert [one["check"] for one in data["gone"]] == ["timer-too-long"]
    assert set(data) == set(api.schema("compare")["properties"])
    assert json.loads(compare_json(comparison(state(), state())))["changes"] == []
