"""New files: what `plumbing new` writes, beside what, and over what it does not write."""

import json

import pytest

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
