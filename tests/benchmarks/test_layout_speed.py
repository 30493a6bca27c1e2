"""How long reading takes."""

from pathlib import Path

import pytest

from plumbing.layout import read, schema

LAYOUTS = Path(__file__).parents[2] / "layouts"


@pytest.mark.parametrize("name", ["single-main", "twin"])
def test_read(benchmark, name):
    """A layout of about 220 lines, and one of about 330."""
    text = (LAYOUTS / f"{name}.yaml").read_text(encoding="utf-8")
    assert benchmark(read, text).tanks


def test_schema(benchmark):
    """The JSON Schema."""
    assert benchmark(schema)["$defs"]
