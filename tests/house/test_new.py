"""New files: what `plumbing new` writes, beside what, and over what it does not write."""

import json

import pytest
from click.testing import CliRunner

from plumbing.cli import main
from plumbing.layout import STARTERS


def test_a_new_file_is_hooked_to_editors(call, tmp_path):
    """The first line names the schema that stands beside it."""
    path = tmp_path / "mine.yaml"
    done = call("new", "single-main", "-o", path)
    assert done.exit_code == 0, done.output
    mark, _, name = path.read_text("utf-8").splitlines()[0].partition("$schema=")
    assert mark == "# yaml-language-server: "
    beside = json.loads((tmp_path / name).read_text("utf-8"))
    assert beside == json.loads(call("schema").output)


@pytest.mark.parametrize("name", STARTERS)
def test_every_starter_has_the_line(call, name):
    """Also on the screen."""
    assert call("new", name).output.startswith("# yaml-language-server: $schema=")


def test_a_schema_of_somebody_else_stays(call, tmp_path):
    """A JSON file of that name without our mark is not written over."""
    other = tmp_path / "plumbing.schema.json"
    other.write_text("{}")
    done = call("new", "single-main", "-o", tmp_path / "mine.yaml")
    assert done.exit_code == 2
    assert "--force" in done.stderr
    assert [one.name for one in tmp_path.iterdir()] == [other.name]
    assert other.read_text() == "{}"


def test_our_own_schema_is_renewed(call, tmp_path):
    """A second layout in the same folder needs no force."""
    for name in ("one.yaml", "two.yaml"):
        assert call("new", "single-main", "-o", tmp_path / name).exit_code == 0


def asked(monkeypatch, path, answers):
    """`plumbing new` with somebody at the terminal."""
    monkeypatch.setattr("plumbing.cli.asking.at_a_terminal", lambda: True)
    return CliRunner().invoke(main, ["new", "-o", str(path)], input="\n".join(answers) + "\n")


def test_questions_give_what_options_give(call, monkeypatch, tmp_path):
    """The same answers, typed or as options, write the same file; a wrong one is asked again."""
    typed, given = tmp_path / "typed.yaml", tmp_path / "given.yaml"
    answers = ["9", "2", "sixty", "60 N", "1,5 L", "1.5 L", "", "", "6x4 PU"]
    done = asked(monkeypatch, typed, answers)
    assert done.exit_code == 0, done.output
    assert done.output.count("Error: ") == 3
    options = ["--engine", "60 N", "--tank", "port=1.5 L", "--tank", "starboard=1.5 L"]
    assert call("new", "chained-pair", *options, "--tube", "PU 6x4", "-o", given).exit_code == 0
    assert typed.read_text("utf-8") == given.read_text("utf-8")


def test_nothing_said_is_the_short_starter(call, monkeypatch, tmp_path):
    """Enter at every question is `--short`, with all of it listed as assumed."""
    path = tmp_path / "mine.yaml"
    done = asked(monkeypatch, path, ["single-main", "", "", "", ""])
    assert done.exit_code == 0, done.output
    assert path.read_text("utf-8") == call("new", "single-main", "--short").output
    for words in ("thrust 60 N", "main 1.5 L", "header 95 ml", "polyurethane 6x4"):
        assert f"  {words}" in done.output


def test_from_nothing_to_a_verdict_in_two_commands(call, tmp_path):
    """The second command reads what the first wrote, and says what is wrong and what is assumed."""
    path = tmp_path / "mine.yaml"
    options = ["--engine", "80 N", "--tank", "main=2 L", "--tank", "header=150 ml"]
    assert call("new", "single-main", *options, "--tube", "polyurethane 6x4", "-o", path)
    done = call("check", path, "--full")
    assert done.exit_code in (0, 1), done.output
    assert "checks clear" in done.output
    assert "engines.engine.full-flow" in done.output


def test_questions_are_not_asked_for_a_file_that_stays(monkeypatch, tmp_path):
    """A file in the way is said before the first question, and is not touched."""
    path = tmp_path / "mine.yaml"
    path.write_text("mine")
    done = asked(monkeypatch, path, ["1", "", "", "", ""])
    assert done.exit_code == 2
    assert "--force" in done.stderr
    assert "Topology" not in done.output
    assert path.read_text() == "mine"


def test_nobody_at_the_terminal_gets_the_list(call):
    """A script is never asked anything; answers without a topology are refused."""
    assert call("new").output.startswith("Starters:")
    done = call("new", "--engine", "60 N")
    assert done.exit_code == 2
    assert "STARTER" in done.stderr


def test_wrong_options_are_refused_together(call, tmp_path):
    """Nothing is written, and each wrong answer has a row."""
    path = tmp_path / "mine.yaml"
    done = call(
        "new", "single-main", "--engine", "60", "--tank", "x=1 L", "--tube", "rope", "-o", path
    )
    assert done.exit_code == 2
    assert all(words in done.stderr for words in ("engine `60`", "tank `x=1 L`", "tube `rope`"))
    assert list(tmp_path.iterdir()) == []


def test_broken_off(monkeypatch, tmp_path):
    """The end of the input in the middle of the questions writes nothing and leaves no trace."""
    done = asked(monkeypatch, tmp_path / "mine.yaml", ["1"])
    assert done.exit_code not in (0, 70)
    assert list(tmp_path.iterdir()) == []
