"""Tables for the typesetter: empty columns dropped, widths worked out, text breakable."""

from __future__ import annotations

import re
from typing import Any

from plumbing.report.schedules.table import Column, Table
from plumbing.report.words import shown

WIDE = 12  # columns from which a table wants the long side of the paper
_LONG = 14  # letters after which a word may be broken
_LETTER = 0.62  # width of a letter in its font size [em]
_MOST = 38  # letters that a column of text is given before it has to give way
_BREAK = "\u200b"  # a place where a word may be broken; it shows nothing and copies as nothing


def typeset(table: Table) -> dict[str, Any]:
    """Give a table as plain data: texts only, widths of the columns, alignment."""
    kept = [k for k in range(len(table.columns)) if _has_content(table, k)]
    columns = [table.columns[k] for k in kept]
    rows = [
        [text(column.shown(row[k])) for column, k in zip(columns, kept, strict=True)]
        for row in table.rows
    ]
    numbers = [any(isinstance(row[k], float) for row in table.rows) for k in kept]
    needs = [
        _need(column, [row[k] for row in rows], number)
        for k, (column, number) in enumerate(zip(columns, numbers, strict=True))
    ]
    return {
        "title": text(table.title),
        "heads": [text(column.words) for column in columns],
        "units": [column.unit for column in columns],
        "rows": rows,
        "numbers": numbers,
        "needs": needs,
        "least": [_least(column, [row[k] for row in rows]) for k, column in enumerate(columns)],
        "wide": len(columns) >= WIDE,
        "notes": [text(note) for note in table.notes],
    }


def _has_content(table: Table, place: int) -> bool:
    column = table.columns[place]
    return place == 0 or any(column.shown(row[place]) for row in table.rows)


def _need(column: Column, cells: list[str], number: bool) -> float:
    """Width a column would like [em of its letters]; the heading may take three rows."""
    longest = max((len(cell) for cell in cells), default=0)
    words = max((len(word) for word in column.words.split()), default=0)
    need = max(longest, words, len(column.unit), -(-len(column.words) // 3))
    letters = need if number or need <= _MOST else min(_MOST + (need - _MOST) / 2, 90)
    return round(_LETTER * letters + 1.4, 2)


def _least(column: Column, cells: list[str]) -> float:
    """Width below which a word of a column would run into the next one [em of its letters]."""
    words = [word for cell in (*cells, column.words, column.unit) for word in _pieces(cell)]
    return round(_LETTER * max(map(len, words), default=0) + 1.4, 2)


def _pieces(cell: str) -> list[str]:
    """Parts of a cell that stay on one line."""
    return re.split(rf"[\s{_BREAK}]+", cell)


def text(words: str) -> str:
    """Text safe to print, with places to break words too long for a column."""
    return re.sub(rf"\S{{{_LONG},}}", _breakable, shown(words))


def _breakable(match: re.Match[str]) -> str:
    """A long word with places to break: after joints, else every few letters."""
    word = re.sub(r"([_./,:])(?=\w)", rf"\1{_BREAK}", match[0])
    return re.sub(rf"([^{_BREAK}]{{{_LONG}}})(?=[^{_BREAK}])", rf"\1{_BREAK}", word)
