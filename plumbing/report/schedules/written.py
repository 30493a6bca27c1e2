"""Tables as CSV for a spreadsheet and as text for a terminal."""

import csv
from collections.abc import Iterator, Sequence
from io import StringIO

from plumbing.report.page import Page
from plumbing.report.schedules.columns import Columns, lay_out
from plumbing.report.schedules.table import Cell, Column, Table
from plumbing.report.words import harmless, shown


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


def to_text(tables: Sequence[Table], width: int = 80, colour: bool = False) -> str:
    """Write tables for a terminal: wide ones in parts, and row by row if those are too wide too.

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
        if not table.rows:
            page.paragraph("none", indent=2)
        for columns in _parts(table):
            _write(page, columns)
            page.blank()
        for note in table.notes:
            page.paragraph(note, indent=2)
    return page.text().lstrip("\n")


def _parts(table: Table) -> Iterator[Columns]:
    """Each part of a table, without rows and columns that say nothing new in it."""
    told: set[int] = set()
    for names in table.parts or (tuple(column.words for column in table.columns),):
        kept = [k for k, column in enumerate(table.columns) if column.words in names]
        kept = [k for k in kept if k in told or any(_known(row[k]) for row in table.rows)]
        new = set(kept) - told
        told |= new
        rows = dict.fromkeys(
            tuple(shown(table.columns[k].shown(row[k])) for k in kept)
            for row in table.rows
            if any(_known(row[k]) for k in new)
        )
        if rows:
            texts = [all(isinstance(row[k], str | None) for row in table.rows) for k in kept]
            yield Columns([table.columns[k].short_head for k in kept], list(rows), texts)


def _known(cell: Cell) -> bool:
    return cell is not None and cell != ""


def _write(page: Page, columns: Columns) -> None:
    laid = lay_out(columns, page.width - 2)
    if laid is not None:
        for line in laid.head:
            page.line(f"  {line}", bold=True)
        for line in laid.body:
            page.line(f"  {line}")
        return
    for row in columns.rows:
        page.line(f"  {row[0]}", bold=True)
        said = [f"{head}: {cell}" for head, cell in zip(columns.heads, row, strict=True) if cell]
        page.paragraph("; ".join(said[1:]), indent=6)
