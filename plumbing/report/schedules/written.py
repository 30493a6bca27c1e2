"""Tables as CSV for a spreadsheet and as text for a terminal."""

import csv
from collections.abc import Sequence
from io import StringIO

from plumbing.report.page import Page
from plumbing.report.schedules.table import Cell, Column, Table
from plumbing.report.words import shown

_FORMULA = ("=", "+", "-", "@", "＝", "＋", "－", "＠")


def to_csv(table: Table) -> str:
    """Write a table as CSV, units in the head.

    A text that a spreadsheet would take for a formula gets an apostrophe in front, and control
    characters become question marks, so that opening the file executes nothing.

    Parameters
    ----------
    table : Table
        The table.

    Returns
    -------
    str
        Comma-separated, rows ended by a line feed.
    """
    out = StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([harmless(column.head) for column in table.columns])
    for row in table.rows:
        writer.writerow(
            [_cell(column, cell) for column, cell in zip(table.columns, row, strict=True)]
        )
    return out.getvalue()


def _cell(column: Column, cell: Cell) -> str:
    return harmless(cell) if isinstance(cell, str) else column.shown(cell)


def harmless(text: str) -> str:
    """Text that no spreadsheet takes for a formula, free of control characters."""
    plain = shown(text)
    return f"'{plain}" if plain.lstrip().startswith(_FORMULA) else plain


def to_text(tables: Sequence[Table], width: int = 80, colour: bool = False) -> str:
    """Write tables for a terminal; a table too wide for it is written row by row.

    Parameters
    ----------
    tables : sequence of Table
        The tables.
    width : int
        Columns of the terminal.
    colour : bool
        Whether terminal colours are wanted.

    Returns
    -------
    str
        Text without a final line break.
    """
    page = Page(width, colour)
    for table in tables:
        page.heading(table.title)
        _table(page, table)
        for note in table.notes:
            page.paragraph(note, indent=2)
    return page.text().lstrip("\n")


def _table(page: Page, table: Table) -> None:
    if not table.rows:
        page.paragraph("none", indent=2)
        return
    cells = [
        [column.shown(cell) for column, cell in zip(table.columns, row, strict=True)]
        for row in table.rows
    ]
    heads = [column.head for column in table.columns]
    wide = sum(max(map(len, column)) + 2 for column in zip(heads, *cells, strict=True))
    if wide <= page.width:
        texts = [all(isinstance(row[k], str) for row in table.rows) for k in range(len(heads))]
        left = texts.index(False) if False in texts else len(texts)
        page.table(heads, cells, left=max(left, 1))
        return
    for row in cells:
        page.line(f"  {row[0]}", bold=True)
        said = [f"{head}: {cell}" for head, cell in zip(heads[1:], row[1:], strict=True) if cell]
        page.paragraph("; ".join(said), indent=6)
