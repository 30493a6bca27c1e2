"""Rows of a log as numbers; what is none is a fault with its place."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from plumbing.frozen import frozen
from plumbing.layout.gathering import Faults, quoted
from plumbing.layout.logs.header import Header, cells_of, place_of
from plumbing.physics.arrays import Array, Indices
from plumbing.place import Place

SHOWN = 5  # faults of one sort that are told one by one
_CHUNK = 5000
_NOTHING = {"", "nan", "inf", "+inf", "-inf", "na", "n/a", "-", "--", "null", "none"}


@dataclass(slots=True)
class Repeated:
    """Tells the first few faults of one sort one by one, and of the others how many there are."""

    faults: Faults
    count: int = 0
    last: tuple[Place, str] | None = field(default=None)

    def add(self, place: Place, found: str, expected: str) -> None:
        """Note a fault."""
        self.count += 1
        if self.count <= SHOWN:
            self.faults.add(place, found, expected)
        elif self.count == SHOWN + 1:
            self.last = (place, expected)

    def close(self) -> None:
        """Say how many were not told."""
        if self.last is not None:
            more = self.count - SHOWN
            self.faults.add(self.last[0], f"{more} more like the ones before", self.last[1])


@frozen(eq=False)
class Numbers:
    """The rows of the columns that are used.

    Attributes
    ----------
    lines : Indices
        Line of each row, shape (N,).
    values : dict of str to Array
        By field of `model.flight.Columns`, each of shape (N,); not a number where a cell is empty.
    cut_off : bool
        Whether the last line was left out because it ends in the middle.
    """

    lines: Indices
    values: dict[str, Array]
    cut_off: bool


def numbers_of(lines: list[str], header: Header, file: str, faults: Faults) -> Numbers:
    """Numbers of all rows below the header.

    Parameters
    ----------
    lines : list of str
        The file.
    header : Header
        Its first row.
    file : str
        For the places.
    faults : Faults
        Receives rows with too few or too many cells, and cells that hold something else.
    """
    end = len(lines)
    cut_off = bool(lines[-1].strip()) and len(_cells(lines[-1], header)) < header.count
    if cut_off and end > header.line + 1:
        end -= 1  # the recorder was switched off while it wrote
    reader = _Reader(lines, header, file, faults)
    for first in range(header.line, end, _CHUNK):
        reader.chunk(first, min(first + _CHUNK, end))
    return reader.numbers(cut_off)


def _cells(line: str, header: Header) -> list[str]:
    """Cells of a line, without an empty one behind a last delimiter."""
    cells = cells_of(line, header.delimiter)
    if len(cells) == header.count + 1 and not cells[-1].strip():
        cells.pop()
    return cells


class _Reader:
    """Reads a few thousand lines at a time, as one flat list of cells."""

    def __init__(self, lines: list[str], header: Header, file: str, faults: Faults) -> None:
        self.lines, self.header, self.file = lines, header, file
        self.where: list[Indices] = []
        self.parts: dict[str, list[Array]] = {name: [] for name in header.columns}
        self.ragged = Repeated(faults)
        self.texts = {name: Repeated(faults) for name in header.columns}

    def numbers(self, cut_off: bool) -> Numbers:
        """Everything read."""
        for repeated in (self.ragged, *self.texts.values()):
            repeated.close()
        values = {
            name: np.concatenate(parts) if parts else np.empty(0)
            for name, parts in self.parts.items()
        }
        where = np.concatenate(self.where) if self.where else np.empty(0, dtype=np.intp)
        return Numbers(where, values, cut_off)

    def chunk(self, first: int, end: int) -> None:
        """Read the lines from `first` to before `end`, both counted from 0."""
        numbers = [n for n in range(first, end) if self.lines[n].strip()]
        rows = [self.lines[n] for n in numbers]
        if not rows:
            return
        delimiter, count = self.header.delimiter, self.header.count
        even = {row.count(delimiter) for row in rows} == {count - 1}
        plain = self._plain(rows) if even else None
        if plain is not None:
            self.where.append(np.array(numbers, dtype=np.intp) + 1)
            for name, values in zip(self.parts, plain, strict=True):
                self.parts[name].append(values)
            return
        if even and '"' not in "".join(rows):
            self._columns(numbers, delimiter.join(rows).split(delimiter))
            return
        whole = [(n, cells) for n in numbers if (cells := self._row(n))]
        self._columns([n for n, _ in whole], [cell for _, row in whole for cell in row])

    def _plain(self, rows: list[str]) -> Array | None:
        """Columns of lines that hold nothing but numbers, or None."""
        wanted = [column.index for column in self.header.columns.values()]
        delimiter = self.header.delimiter
        try:
            return np.loadtxt(rows, delimiter=delimiter, comments=None, usecols=wanted, ndmin=2).T
        except ValueError:
            return None

    def _columns(self, numbers: list[int], cells: list[str]) -> None:
        """Keep the columns that are used, of lines given as one list of cells."""
        self.where.append(np.array(numbers, dtype=np.intp) + 1)
        for name, column in self.header.columns.items():
            self.parts[name].append(self._column(name, cells[column.index :: self.header.count]))

    def _row(self, number: int) -> list[str] | None:
        """Cells of one line, or None with the fault noted."""
        line, count = self.lines[number], self.header.count
        cells = _cells(line, self.header)
        if len(cells) == count:
            return cells
        found = f"{len(cells)} cells in {quoted(line)}"
        self.ragged.add(Place(self.file, number + 1), found, f"{count} cells, as in the first row")
        return None

    def _column(self, name: str, cells: list[str]) -> Array:
        comma = self.header.delimiter != ","
        values = [_quick(cell) if cell else math.nan for cell in cells]
        for row, value in enumerate(values):
            if value is None:
                exact = _number(cells[row], comma)
                if exact is None:
                    self._text(name, row, cells[row])
                values[row] = math.nan if exact is None else exact
        return np.array(values, float)

    def _text(self, name: str, row: int, cell: str) -> None:
        number, column = int(self.where[-1][row]), self.header.columns[name]
        place = place_of(self.lines[number - 1], number, column.index, self.header, self.file)
        found = f"{quoted(cell.strip())} in column {quoted(column.title)}"
        self.texts[name].add(place, found, "a number such as `12.5`")


def _quick(cell: str) -> float | None:
    try:
        return None if "_" in cell else float(cell)  # `_` would be taken for a digit separator
    except ValueError:
        return None


def _number(cell: str, comma: bool) -> float | None:
    """Number in a cell; not a number for an empty one, None for a text."""
    word = cell.strip()
    if word.lower() in _NOTHING:
        return math.nan
    if comma and "," in word:
        word = word.replace(",", ".")
    try:
        return None if "_" in word else float(word)
    except ValueError:
        return None
