"""What cannot be done is said in words, with exit code 2 and no traceback."""

from pathlib import Path

import pytest

from plumbing.cli import COMMANDS

ROOT = Path(__file__).parents[2]
APART = ("explain", "new", "schema", "completion", "live")  # `live` is tried with its page
READERS = [name for name in COMMANDS if name not in APART]
WRITERS = {"draw": "x.svg", "report": "x.html", "template": "x.pdf"}


def refused(done, *words):
    """Assert that a call was refused in plain words."""
    assert done.exit_code == 2, done.output
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    assert "Traceback" not in done.output
    for word in words:
        assert word in done.output


def output_of(command, folder, tmp_path):
    """What else a command needs to get as far as its input: an output, or a second layout."""
    if command == "compare":
        return [ROOT / "layouts" / "single-main.yaml"]
    return ["-o", tmp_path / folder / WRITERS[command]] if command in WRITERS else []


def test_unknown_command_names_the_nearest(called):
    """A mistyped command is answered with the right one."""
    refused(called("chek"), "chek", "Did you mean `check`?")
    refused(called("zzzz"), "zzzz")


@pytest.mark.parametrize("command", COMMANDS)
def test_unknown_option(called, command):
    """Every command refuses an option it does not know."""
    refused(called(command, "--no-such-option"), "--no-such-option")


def test_unknown_value_of_an_option(called, root):
    """A value outside the choice shows the choice."""
    refused(called("check", root / "layouts/bad.yaml", "--fail-on", "worry"), "unsafe", "never")


@pytest.mark.parametrize("command", READERS)
def test_missing_argument(called, command):
    """A command that reads a layout asks for it."""
    refused(called(command))


@pytest.mark.parametrize("command", READERS)
def test_missing_file(called, tmp_path, command):
    """A file that is not there is named."""
    refused(called(command, tmp_path / "gone.yaml", *output_of(command, "", tmp_path)), "gone.yaml")


@pytest.mark.parametrize("command", READERS)
def test_folder_instead_of_a_file(called, tmp_path, command):
    """A folder is no layout."""
    refused(called(command, tmp_path, *output_of(command, "", tmp_path)))


@pytest.mark.parametrize("command", READERS)
def test_binary_file(called, tmp_path, command):
    """Bytes that are no text are refused with their place."""
    path = tmp_path / "noise.yaml"
    path.write_bytes(bytes(range(256)) * 20)
    refused(called(command, path, *output_of(command, "", tmp_path)), "noise.yaml")


@pytest.mark.parametrize("content", ["", "# nothing\n", "- 1\n- 2\n", "just words", "a: [1, 2\n"])
def test_file_that_is_no_layout(called, tmp_path, content):
    """An empty, a broken and a foreign file are refused."""
    path = tmp_path / f"odd{abs(hash(content))}.yaml"
    path.write_text(content)
    refused(called("check", path), path.name)


@pytest.mark.parametrize("command", WRITERS)
def test_output_that_cannot_be_written(called, root, tmp_path, command):
    """A folder that does not exist is said, and nothing is left behind."""
    layout = root / "layouts/single-main.yaml"
    refused(called(command, layout, *output_of(command, "no-such-folder", tmp_path)), "no-such")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("command", WRITERS)
def test_output_of_an_unknown_kind(called, root, tmp_path, command):
    """The ending chooses the form; one that is none is refused."""
    refused(called(command, root / "layouts/single-main.yaml", "-o", tmp_path / "x.docx"))
    assert list(tmp_path.iterdir()) == []


def test_names_that_do_not_exist(called, root):
    """A flight, tank, former, check or starter that does not exist is answered with what does."""
    layout = root / "layouts/single-main.yaml"
    refused(called("fly", layout, "--flight", "no such"), "no such")
    refused(called("tilt", layout, "--tank", "no such"), "no such", "main")
    refused(called("explain", "second-open-went"), "second-open-vent")
    refused(called("new", "no-such"), "single-main")


def test_existing_file_is_not_written_over(called, tmp_path):
    """`new` keeps what is there unless told otherwise."""
    path = tmp_path / "mine.yaml"
    path.write_text("mine")
    refused(called("new", "single-main", "-o", path), "--force")
    assert path.read_text() == "mine"
    assert called("new", "single-main", "--force", "-o", path).exit_code == 0
    assert path.read_text() != "mine"
