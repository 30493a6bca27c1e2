"""Columns laid out within a width, read back by eye and by the rule below their headings."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as some

from plumbing.report.schedules.columns import Columns, Laid, lay_out

WORDS = some.lists(some.text("abcdefgh", min_size=1, max_size=9), min_size=1, max_size=6)
TEXT = WORDS.map(" ".join)
ROWS = some.lists(some.tuples(TEXT, TEXT, TEXT), min_size=1, max_size=4)


def read_back(laid: Laid, count: int) -> list[list[str]]:
    """Cells of a table whose first cells are one letter each, so that a new row can be seen."""
    places = [found.span() for found in re.finditer("─+", laid.head[-1])]
    rows: list[list[list[str]]] = []
    for line in laid.body:
        cells = [line[start:stop].strip() for start, stop in places]
        if cells[0]:
            rows.append([[] for _ in range(count)])
        for words, cell in zip(rows[-1], cells, strict=True):
            words.extend(cell.split())
    return [[" ".join(words) for words in row] for row in rows]


def test_a_table_that_fits_stands_in_single_lines() -> None:
    """Texts to the left, numbers to the right, a rule below: worked by eye."""
    laid = lay_out(
        Columns(("line", "cut [mm]"), (("feed", "515"), ("vent", "5")), (True, False)), 80
    )
    assert laid == Laid(("line  cut [mm]", "────  ────────"), ("feed       515", "vent         5"))


def test_headings_fold_before_texts() -> None:
    """With less room the heading folds, and stands on the rule; with still less the text does."""
    columns = Columns(("line", "cut [mm]"), (("feed of port", "515"),), (True, False))
    assert lay_out(columns, 18) == Laid(
        ("               cut", "line          [mm]", "────────────  ────"), ("feed of port   515",)
    )
    assert lay_out(columns, 13) == Laid(
        ("          cut", "line     [mm]", "───────  ────"), ("feed of   515", " port")
    )


def test_a_long_word_is_broken_and_none_of_it_lost() -> None:
    """A name without blanks goes on in the next line."""
    laid = lay_out(Columns(("name", "bore"), (("x" * 30, "4.4"),), (True, False)), 20)
    assert laid is not None
    assert "".join(laid.body).count("x") == 30
    assert max(map(len, (*laid.head, *laid.body))) <= 20


def test_too_many_columns_are_refused() -> None:
    """Numbers are never folded, so that ten of them need their room."""
    assert lay_out(Columns(["head"] * 10, [["1000"] * 10], [False] * 10), 57) is None
    assert lay_out(Columns(["head"] * 10, [["1000"] * 10], [False] * 10), 58) is not None


@pytest.mark.parametrize("room", [44, 60, 78])
@given(rows=ROWS)
def test_what_is_laid_out_reads_back(rows: list[tuple[str, str, str]], room: int) -> None:
    """Every table keeps within its room, and its cells can be read back whole."""
    marked = [("x", *row) for row in rows]
    laid = lay_out(Columns(("", "one", "two", "three"), marked, [True] * 4), room)
    assert laid is not None
    assert max(map(len, (*laid.head, *laid.body))) <= room
    assert read_back(laid, 4) == [list(row) for row in marked]
