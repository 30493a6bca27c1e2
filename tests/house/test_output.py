"""What is printed fits the screen, and what machines read is what machines expect."""

import json
import re

import pytest
from click.testing import CliRunner

from plumbing.cli import main

PRINTED = [
    ("check", "bad"),  # the longest text there is; it takes its time
    *(
        (command, layout)
        for command in ("check", "fly", "fill", "park", "faults", "tilt", "size", "schedule")
        for layout in ("teed-pair", "twin")
    ),
]
IN_JSON = [(command, "twin") for command in ("check", "fly", "fill", "park", "faults", "tilt")]


def not_a_number(word):
    """Refuse what JSON does not have."""
    raise AssertionError(f"{word} in JSON")


@pytest.mark.quick("single-main", "chained-pair", "fly-twin", "tilt-twin")
@pytest.mark.parametrize(("command", "layout"), PRINTED)
def test_text_fits_eighty_columns(called, root, command, layout):
    """No line is longer than 80 columns, none ends in blanks, and no escape code is printed."""
    done = called(command, root / "layouts" / f"{layout}.yaml")
    assert done.exit_code in (0, 1), done.output
    name = str(root / "layouts")
    for line in done.output.splitlines():
        assert len(line) <= 80 or name in line, line
        assert "\x1b" not in line
        assert "nan" not in line.lower().split()
        assert not re.search(r"\d\.\d{7}", line), line


@pytest.mark.parametrize("command", ["explain", "new"])
def test_lists_fit_eighty_columns(called, command):
    """The list of checks and that of starters fit the screen."""
    assert max(map(len, called(command).output.splitlines())) <= 80


@pytest.mark.quick("fly", "fill", "park")
@pytest.mark.parametrize(("command", "layout"), IN_JSON)
def test_json_is_json(called, root, command, layout):
    """JSON output parses and holds no NaN and no infinity."""
    done = called(command, root / "layouts" / f"{layout}.yaml", "--format", "json")
    assert done.exit_code in (0, 1), done.output
    assert json.loads(done.stdout, parse_constant=not_a_number)


def test_schema_is_json(called):
    """The schema parses and names the form it is written in."""
    assert "$schema" in json.loads(called("schema").stdout, parse_constant=not_a_number)


def test_errors_go_to_the_other_stream(called, tmp_path):
    """A refused call leaves standard output empty, so that it can be piped."""
    done = called("check", tmp_path / "gone.yaml", "--format", "json")
    assert done.stdout == ""
    assert "gone.yaml" in done.stderr


@pytest.mark.parametrize(
    ("terminal", "no_color", "coloured"),
    [(True, "", True), (True, "1", False), (False, "", False)],
)
def test_colour_only_where_it_is_wanted(monkeypatch, root, terminal, no_color, coloured):
    """Escape codes appear on a terminal only, and never with NO_COLOR set."""
    monkeypatch.setenv("NO_COLOR", no_color)
    monkeypatch.setattr(
        "plumbing.cli.common.sys", type("Sys", (), {"stdout": Terminal(terminal), "exit": exit})
    )
    layout = root / "layouts" / "single-main.yaml"
    done = CliRunner().invoke(main, ["tilt", str(layout)], color=True)
    assert ("\x1b[" in done.output) == coloured


class Terminal:
    """Answers whether it is a terminal."""

    def __init__(self, is_one):
        self.is_one = is_one

    def isatty(self):
        """Say so."""
        return self.is_one

    def fileno(self):
        """Have none."""
        raise OSError
