"""The patterns of the exported JSON Schema in a JavaScript engine, as editors use them."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "layout"))

pytestmark = pytest.mark.browser
MATCHES = """
const [patterns, texts, flags] = arguments;
return patterns.map(one => {
  const made = new RegExp(one, flags);
  return texts.map(text => made.test(text));
});
"""


@pytest.mark.parametrize("flags", ["", "u", "v"])
def test_patterns_mean_the_same(browser, flags):
    """Every pattern compiles with each flag of ECMA-262, and takes what it takes in Python."""
    from schema_samples import SCHEMA, patterns, spellings

    known, texts = patterns(SCHEMA), spellings()
    expected = [[re.search(one, text) is not None for text in texts] for one in known]
    assert browser.execute_script(MATCHES, known, texts, flags) == expected
