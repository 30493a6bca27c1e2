"""Every command answers for itself, and the exit code says how it ended."""

import re

import pytest
from click.testing import CliRunner

from plumbing.cli import COMMANDS, main

INTERNALS = re.compile(
    r"numpy|networkx|pint\b|typst|jinja|ndarray|dataclass|scenario|traceback|__|click"
    r"|\bAPI\b|batch|refactor|TODO",
    re.IGNORECASE,
)


@pytest.mark.parametrize("command", COMMANDS)
def test_help_of_every_command(called, command):
    """Help ends with 0, fits 80 columns, names the program and speaks to the builder only."""
    for option in ("--help", "-h"):
        done = called(command, option)
        assert done.exit_code == 0
        assert done.output.startswith("Usage: ")
        assert max(map(len, done.output.splitlines())) <= 80
        assert not INTERNALS.search(done.output), INTERNALS.search(done.output)


@pytest.mark.parametrize("command", COMMANDS)
def test_options_are_explained(called, command):
    """No option stands in a help text without words."""
    options = called(command, "--help").output.partition("Options:\n")[2].splitlines()
    for line, after in zip(options, [*options[1:], ""], strict=True):
        if re.match(r"  -", line):
            alone = not re.search(r"\S  +\S", line.strip())
            assert not alone or after.startswith("      "), line


def test_main_help_lists_every_command(called):
    """The first help lists all commands, each with what it is for."""
    text = called("--help").output
    for command, words in COMMANDS.items():
        assert re.search(rf"^  {command} +\S", text, re.MULTILINE)
        assert words.endswith(".")


def test_readme_lists_every_command(root):
    """The table of commands in the README has every command."""
    text = (root / "README.md").read_text(encoding="utf-8")
    assert [one for one in COMMANDS if f"`plumbing {one}" not in text] == []


def test_version(called):
    """The version is printed with the program's name."""
    assert re.fullmatch(r"plumbing \d+\.\d+\.\d+\n", called("--version").output)


def test_module_runs_as_program(fresh):
    """`python -m plumbing` is the same program."""
    done = fresh("-m", "plumbing", "--help")
    assert done.returncode == 0
    assert done.stdout.startswith("Usage: ")


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_completion_script(called, shell):
    """Each shell gets a script that names the program."""
    done = called("completion", shell)
    assert done.exit_code == 0
    assert "_PLUMBING_COMPLETE" in done.output


@pytest.mark.parametrize(
    ("layout", "fail_on", "code"),
    [
        ("single-main", "fault", 0),
        ("teed-pair", "fault", 1),
        ("teed-pair", "never", 0),
        ("twin", "fault", 0),
        ("twin", "advice", 0),
        ("teed-pair", "advice", 1),
    ],
)
@pytest.mark.quick("single-main", "teed-pair-fault")
def test_exit_code_follows_the_severity_chosen(called, root, layout, fail_on, code):
    """0 is nothing at or above the chosen severity, 1 is a finding."""
    path = root / "layouts" / f"{layout}.yaml"
    assert called("check", path, "--fail-on", fail_on).exit_code == code


def test_error_of_our_own_is_one_message(root, monkeypatch):
    """What nobody foresaw ends with its place and an exit code of its own, not with a trace."""

    def fails(*_, **__):
        raise KeyError("pump")

    monkeypatch.setattr("plumbing.checks.examined.judge", fails)
    arguments = ["check", str(root / "layouts" / "single-main.yaml")]
    done = CliRunner().invoke(main, arguments)
    assert done.exit_code == 70
    assert "KeyError: 'pump'" in done.stderr
    assert "test_command_line.py:" in done.stderr
    assert "Traceback" not in done.output
    monkeypatch.setenv("PLUMBING_TRACE", "1")
    assert isinstance(CliRunner().invoke(main, arguments).exception, KeyError)
