"""The reference page is made from the program, and is up to date."""

from pathlib import Path

from plumbing.layout.forms import fields_of
from plumbing.layout.reference import _classes, page

PAGE = Path(__file__).parents[2] / "docs" / "layout-file.md"


def test_page_is_up_to_date():
    """docs/layout-file.md is what `python -m plumbing.layout.reference` prints."""
    assert PAGE.read_text(encoding="utf-8") == page()


def test_every_key_is_explained():
    """Every key of the layout file has words of its own."""
    for cls in _classes():
        assert cls.__doc__
        for key, field in fields_of(cls).items():
            assert field.doc, f"{cls.__name__}.{key}"
            assert f"| `{key}` |" in page()
