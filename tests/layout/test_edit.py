"""Values are changed where they stand, and nothing else is."""

from pathlib import Path

import pytest
from click.testing import CliRunner

from plumbing import layout as layouts
from plumbing.cli import main
from plumbing.errors import UsageError
from plumbing.layout.edit import changed, written

LAYOUTS = Path(__file__).parents[2] / "layouts"
TEXT = """# top
lines:   # all
  feed: {tube: nylon 6x4, colour: clear}   # keep me
  "vent: 1":
    tube: 'old one' # quoted
    colour: red
"""
FEED, VENT = ("lines", "feed", "tube"), ("lines", "vent: 1", "tube")


def test_only_the_value_changes() -> None:
    """Comments, blanks, order and quotes elsewhere stay as they were."""
    text = changed(TEXT, "f", {FEED: "nylon 8x6", VENT: "nylon 6x4"})
    assert text == TEXT.replace("nylon 6x4", "nylon 8x6").replace("'old one'", "nylon 6x4")


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_line_ends_and_byte_order_mark_stay(ends: str, mark: str) -> None:
    """Files of other systems keep their line ends."""
    text = mark + TEXT.replace("\n", ends)
    assert changed(text, "f", {FEED: "x"}) == text.replace("nylon 6x4", "x")


@pytest.mark.parametrize(
    "value", ["a: b", "#x", "- y", "yes", "1e3", 'q"', "x, y}", "[", " z", "ü 6x4"]
)
def test_any_name_is_written_so_that_it_is_read_back(value: str) -> None:
    """Names that YAML would take for something else are put in quotes."""
    assert f"tube: {written(value)}," in changed(TEXT, "f", {FEED: value})


def test_what_is_not_there_is_refused() -> None:
    """A key below a single value and a folded value are left alone."""
    with pytest.raises(UsageError, match="by hand"):
        changed(TEXT, "f", {("lines", "feed", "tube", "x"): "x"})
    with pytest.raises(UsageError, match="by hand"):
        changed("a: >\n  folded\n  text\n", "f", {("a",): "x"})


@pytest.mark.parametrize(
    ("path", "value", "was", "by"),
    [
        (("lines", "feed", "colour"), None, ", colour: clear", ""),
        (("lines", "feed", "tube"), None, "tube: nylon 6x4, ", ""),
        (("lines", "feed", "cut-length"), "120 mm", "clear}", "clear, cut-length: 120 mm}"),
        (("lines", "vent: 1", "tube"), None, "    tube: 'old one' # quoted\n", ""),
        (("lines", "vent: 1", "at"), ["1 mm", "-2 mm"], "red\n", "red\n    at: [1 mm, -2 mm]\n"),
        (("lines", "feed"), None, "  feed: {tube: nylon 6x4, colour: clear}   # keep me\n", ""),
        (("lines", "new"), {"tube": "a"}, "red\n", "red\n  new: {tube: a}\n"),
        (("joints", "b", "bore"), "3 mm", "red\n", "red\njoints: {b: {bore: 3 mm}}\n"),
        (("lines", "feed", "spare"), None, "", ""),
        (
            ("lines", "vent: 1"),
            {"tube": "a"},
            "1\":\n    tube: 'old one' # quoted\n    colour: red",
            '1": {tube: a}',
        ),
    ],
)
def test_entries_come_and_go(path, value, was: str, by: str) -> None:
    """Entries are added and taken out in braces and in blocks; nothing else changes."""
    assert changed(TEXT, "f", {path: value}) == TEXT.replace(was, by)


@pytest.mark.slow
def test_size_applies_to_the_file_and_keeps_comments(tmp_path: Path) -> None:
    """After `--apply` the file differs in tubes only; a second run changes nothing."""
    path = tmp_path / "twin.yaml"
    source = (LAYOUTS / "twin.yaml").read_text()
    path.write_text(source)
    done = CliRunner().invoke(main, ["size", str(path), "--apply"])
    assert done.exit_code == 0, done.output
    rows = list(zip(source.splitlines(), path.read_text().splitlines(), strict=True))
    assert all(old == new or "tube:" in old for old, new in rows)
    assert any(old != new for old, new in rows)
    assert "+" in done.output
    before, after = layouts.load(LAYOUTS / "twin.yaml"), layouts.load(path)
    assert after.joints == before.joints
    assert after.tanks == before.tanks
    again = CliRunner().invoke(main, ["size", str(path), "--apply"])
    assert "already" in again.output


@pytest.mark.slow
def test_size_with_new_joints_writes_them_as_well(tmp_path: Path) -> None:
    """Tubes that need other joints are written with them, and the file is read back so."""
    path = tmp_path / "one.yaml"
    path.write_text((LAYOUTS / "single-main.yaml").read_text())
    done = CliRunner().invoke(main, ["size", str(path), "--new-joints", "--apply"])
    assert done.exit_code == 0, done.output
    after = layouts.load(path)
    made = [line for line in after.lines.values() if (line.joint or "").startswith("barb for ")]
    assert made
    assert all(line.joint == f"barb for {line.tube}".replace(".", "-") for line in made)
    assert {line.joint for line in made} <= after.joints.keys()
