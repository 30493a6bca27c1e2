"""A plain table: columns with their units, rows of texts and numbers."""

import math
from dataclasses import field

from plumbing.frozen import frozen

Cell = str | float | None


@frozen
class Column:
    """One column.

    Attributes
    ----------
    words : str
        What it holds.
    unit : str
        Unit of its numbers, or empty.
    places : int
        Decimals of its numbers.
    short : str
        What it is called on a terminal, where that is shorter.
    """

    words: str
    unit: str = ""
    places: int = 0
    short: str = ""

    @property
    def head(self) -> str:
        """Heading with the unit."""
        return self._with_unit(self.words)

    @property
    def short_head(self) -> str:
        """The same for a terminal."""
        return self._with_unit(self.short or self.words)

    def _with_unit(self, words: str) -> str:
        return f"{words} [{self.unit}]" if self.unit else words

    def shown(self, cell: Cell) -> str:
        """A cell as text; what is not known stays empty."""
        if cell is None:
            return ""
        if isinstance(cell, str):
            return cell
        if not math.isfinite(cell):
            return ""
        text = f"{cell:.{self.places}f}"
        return text.removeprefix("-") if float(text) == 0.0 else text


@frozen
class Table:
    """A schedule.

    Attributes
    ----------
    name : str
        Short name, which is its file's name as well.
    title : str
        Title.
    columns : tuple of Column
        Columns.
    rows : tuple of tuple of Cell
        Rows, as long as there are columns.
    notes : tuple of str
        What a reader must know to use it.
    parts : tuple of tuple of str
        How a terminal shows a table that is wider than itself: the columns of each part, the parts
        one below the other. Without any it is shown as one.
    """

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    notes: tuple[str, ...] = field(default=())
    parts: tuple[tuple[str, ...], ...] = field(default=())
