"""How parts are named in findings."""

import pytest

from plumbing.checks.words import called, listed, on_lines, subject


@pytest.mark.parametrize(
    ("kind", "name", "words"),
    [
        ("pump", "pump", "the pump"),
        ("pump", "P1", "pump P1"),
        ("pump", "port pump", "port pump"),
        ("fill port", "fill", "the fill port"),
        ("check valve", "feed check", "feed check"),
    ],
)
def test_no_word_is_said_twice(kind, name, words):
    """The kind is said where the name does not say it."""
    assert called(kind, name) == words
    assert subject(kind, name) == words[0].upper() + words[1:]


@pytest.mark.parametrize(
    ("names", "words"),
    [
        ((), ""),
        (("a",), "a"),
        (("a", "b"), "a and b"),
        (("a", "b", "c", "d"), "a, b, c and d"),
        (("a", "b", "c", "d", "e"), "a, b, c and 2 more"),
    ],
)
def test_long_rows_are_cut(names, words):
    """Up to four names are all said, more are counted; none is lost in the count."""
    assert listed(names) == words


def test_on_lines():
    """One line is a line, more are lines."""
    assert on_lines(["a"]) == "on line a"
    assert on_lines(["a", "b"]) == "on lines a and b"
