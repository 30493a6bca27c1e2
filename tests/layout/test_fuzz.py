"""Whatever is written, reading ends in a layout or in faults with lines."""

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from layout_samples import SMALL

from plumbing.errors import LayoutError
from plumbing.layout import read

QUICK = settings(
    max_examples=150, deadline=2000, suppress_health_check=[HealthCheck.too_slow], derandomize=True
)
SIGNS = st.text(alphabet="ab1 :-{}[],\n'\"#&*!|>%@`\\\t?~.", max_size=80)
WORDS = st.sampled_from([*SMALL.replace(",", " , ").split(), "{", "}", "[", "]", ":", "\n", "  "])


def outcome(text):
    """Read it: a layout, or faults with places; anything else is raised."""
    faults = ()
    try:
        read(text, "f.yaml")
    except LayoutError as error:
        faults = error.faults or (None,)
    for fault in faults:
        assert fault.place.line >= 1
        assert fault.place.column >= 1


@QUICK
@given(st.text(max_size=200))
def test_any_text(text):
    """Any text is answered."""
    outcome(text)


@QUICK
@given(SIGNS)
def test_any_signs(text):
    """Any heap of the signs that mean something is answered."""
    outcome(text)
    outcome("format: 2\n" + text)


@QUICK
@given(st.lists(WORDS, max_size=60).map(" ".join))
def test_any_words(text):
    """Any heap of the layout file's own words is answered."""
    outcome("format: 2\n" + text)


@QUICK
@given(st.integers(0, len(SMALL) - 1), st.integers(0, 40), SIGNS)
def test_any_patch(start, length, words):
    """A layout with any stretch of it overwritten is answered."""
    outcome(SMALL[:start] + words + SMALL[start + length :])


@QUICK
@given(st.permutations(SMALL.splitlines(keepends=True)))
def test_any_order(lines):
    """A layout with its lines shuffled is answered."""
    outcome("".join(lines))
