"""Python in the pages does what they say."""

import doctest
import re

import pytest

PAGES = ["docs/python.md", "docs/study.md"]


@pytest.mark.parametrize("page", PAGES)
def test_python_runs_as_shown(root, page, monkeypatch):
    """Every statement of a page runs, one after the other, and shows what stands below it."""
    monkeypatch.chdir(root)
    text = (root / page).read_text(encoding="utf-8")
    code = "\n".join(re.findall(r"^```python\n(.*?)^```$", text, re.MULTILINE | re.DOTALL))
    test = doctest.DocTestParser().get_doctest(code, {}, page, page, 0)
    assert test.examples
    said = []
    doctest.DocTestRunner().run(test, out=said.append)
    assert "".join(said) == ""
