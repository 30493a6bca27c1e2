"""Pages of filling, parking and faults: they fit the screen, and their JSON is sound."""

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner

from plumbing import api
from plumbing.cli import main
from plumbing.report.faults_text import faults_text
from plumbing.report.fill_text import fill_text
from plumbing.report.ground_json import faults_json, fill_json, park_json
from plumbing.report.park_text import park_text
from plumbing.report.sheets.broken import broken

LAYOUTS = Path(__file__).parent.parent.parent / "layouts"
CHAIN = str(LAYOUTS / "chained-pair.yaml")


@pytest.fixture(scope="module")
def layout():
    """A demo aircraft."""
    return api.load(CHAIN)


@pytest.fixture(scope="module")
def results(layout):
    """Its filling, parking and faults."""
    return api.fill(layout), api.park(layout), api.faults(layout)


def test_pages_fit_eighty_columns(layout, results):
    """No line is longer than the screen, and nothing is not a number."""
    for write, result in zip((fill_text, park_text, faults_text), results, strict=True):
        text = write(layout, result)
        assert max(map(len, text.splitlines())) <= 80
        assert "nan" not in text.lower().split()
        assert "None" not in text


def test_fill_page_says_what_matters(layout, results):
    """Order, overflow, safe flow and what stays are on the page."""
    text = fill_text(layout, results[0])
    for words in ("Filling at fill", "leaves vent", "Highest safe filling flow", "stays"):
        assert words in text
    assert text.index("  header") < text.index("  starboard") < text.index("  port")


def test_fill_page_stays_narrow_with_many_tanks(layout, results):
    """A tank more is a row more of what is held when filled in part, never a column more."""
    lines = fill_text(layout, results[0]).splitlines()
    at = next(number for number, line in enumerate(lines) if line.strip().startswith("pushed in "))
    assert len(re.findall(r"[\d.]+ (?:ml|L)", lines[at])) == 4
    assert [line.split()[0] for line in lines[at + 1 : at + 4]] == ["header", "starboard", "port"]


def test_no_suction_is_shown_where_a_way_is_closed(results):
    """Behind a closed way nothing is drawn: its cell is empty, not a negative suction."""
    worst = replace(results[2].outcomes[0], suction={"pump": -6.6e3})
    table = broken(replace(results[2], outcomes=(worst,)))
    column = [one.words for one in table.columns].index("highest suction")
    assert table.rows[0][column] is None


def test_park_page_says_what_matters(layout, results):
    """Attitudes, heads, heat and the sweep are on the page."""
    text = park_text(layout, results[1])
    for words in ("Parked: on its wheels", "over it", "grows by", "Around level", "Vents"):
        assert words in text


def test_faults_page_says_what_matters(layout, results):
    """The blocked vent, what it does and how it is noticed are on the page."""
    text = faults_text(layout, results[2])
    for words in ("UNSAFE", "Vent is blocked", "engine stops after", "noticed", "Not felt"):
        assert words in text


def test_json_is_sound(results):
    """Each result is JSON without not-a-numbers, with a format name."""
    for write, result in zip((fill_json, park_json, faults_json), results, strict=True):
        data = json.loads(write(result), parse_constant=pytest.fail)
        assert data["format"].startswith("plumbing-")


@pytest.mark.parametrize("name", ["fill", "park", "faults"])
def test_commands_answer(name):
    """The commands print their page and end well; without a terminal nothing is said of waiting."""
    result = CliRunner().invoke(main, [name, CHAIN])
    assert result.exit_code == 0, result.output
    assert "Caution" in result.output
    assert result.stderr == ""


def test_wrong_port_is_told():
    """A fill port that does not exist is a plain message and exit code 2."""
    result = CliRunner().invoke(main, ["fill", CHAIN, "--port", "nose"])
    assert result.exit_code == 2
    assert "no fill port `nose`" in result.stderr


def test_wrong_flight_is_told():
    """A flight that does not exist is a plain message and exit code 2."""
    result = CliRunner().invoke(main, ["faults", CHAIN, "--flight", "moon"])
    assert result.exit_code == 2
    assert "no flight `moon`" in result.stderr
