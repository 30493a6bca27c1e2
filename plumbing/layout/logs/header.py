"""The first row of a log: which column holds what, in which unit."""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping
from dataclasses import fields

from plumbing.frozen import frozen
from plumbing.layout.gathering import Faults, listed, quoted
from plumbing.layout.logs.quantities import QUANTITIES, SHARE
from plumbing.model.flight import Columns
from plumbing.place import Place

DELIMITERS = (";", "\t", ",")
_UNIT = re.compile(r"^(.*?)\s*[\[(]\s*([^\[\]()]*?)\s*[\])]\s*$")
_GAP = re.compile(r"[\s_-]+")
_LEFT_OPEN = {"time": "time"}  # names in `Columns` that say no more than the usual one


@frozen
class Column:
    """Where a quantity stands.

    Attributes
    ----------
    index : int
        Column, from 0.
    title : str
        As the file calls it.
    factor : float or None
        To SI (to g for load factors); None for a throttle that names no unit.
    guessed : bool
        Whether the layout does not name it.
    """

    index: int
    title: str
    factor: float | None
    guessed: bool


@frozen
class Header:
    """The first row.

    Attributes
    ----------
    line : int
        Its line.
    delimiter : str
        Comma, semicolon or tab.
    count : int
        Number of columns.
    columns : mapping of str to Column
        By field of `model.flight.Columns`.
    """

    line: int
    delimiter: str
    count: int
    columns: Mapping[str, Column]


def cells_of(line: str, delimiter: str) -> list[str]:
    """Cells of a line; quotes keep a delimiter within a cell."""
    if '"' not in line:
        return line.split(delimiter)
    try:
        return next(csv.reader((line,), delimiter=delimiter), [""])
    except csv.Error:
        return line.split(delimiter)


def place_of(line: str, number: int, index: int, header: Header, file: str) -> Place:
    """Place of a cell."""
    column, cell, within = 1, 0, False
    for spot, sign in enumerate(line, 1):
        if cell == index:
            break
        within ^= sign == '"'
        if sign == header.delimiter and not within:
            cell, column = cell + 1, spot + 1
    return Place(file, number, column)


def header_of(lines: list[str], columns: Columns, file: str, faults: Faults) -> Header | None:
    """Read the first row that is not empty.

    Parameters
    ----------
    lines : list of str
        The file.
    columns : Columns
        Names stated in the layout.
    file : str
        For the places.
    faults : Faults
        Receives missing columns, unknown units and names that stand twice.

    Returns
    -------
    Header or None
        None where there is no row at all, or no header.
    """
    number = next((n for n, line in enumerate(lines, 1) if line.strip()), None)
    if number is None:
        faults.add(Place(file, 1), "an empty file", "a row of column names, then rows of numbers")
        return None
    line = lines[number - 1]
    delimiter = max(DELIMITERS, key=lambda sign: len(cells_of(line, sign)))
    titles = [cell.strip() for cell in cells_of(line, delimiter)]
    if all(_is_number(title) for title in titles):
        faults.add(Place(file, number), f"numbers {quoted(line)}", "a first row of column names")
        return None
    empty = Header(number, delimiter, len(titles), {})
    found = {}
    for field in fields(Columns):
        if field.name in QUANTITIES:
            column = _column(field.name, titles, columns, empty, line, file, faults)
            if column is not None:
                found[field.name] = column
    if not {"flow", "throttle"} & found.keys() and not (columns.flow or columns.throttle):
        faults.add(
            Place(file, number),
            "no column for `throttle` or `flow`",
            f"one of them; the columns are {listed(titles)}. Name it under `log: {{columns: }}`",
        )
    return Header(number, delimiter, len(titles), found)


def _column(
    name: str,
    titles: list[str],
    columns: Columns,
    header: Header,
    line: str,
    file: str,
    faults: Faults,
) -> Column | None:
    stated: str | None = getattr(columns, name)
    guessed = stated is None or stated == _LEFT_OPEN.get(name)
    wanted = QUANTITIES[name].usual if guessed else (str(stated),)
    matches = _matches(titles, wanted)
    if not matches:
        if name == "time" or not guessed:
            what = f"no column {quoted(str(stated))}"
            faults.add(Place(file, header.line), what, f"it among {listed(titles)}")
        return None
    index = matches[0]
    place = place_of(line, header.line, index, header, file)
    if len(matches) > 1:
        faults.add(place, f"column {quoted(titles[index])} twice", "every column once")
    unit = _unit_of(titles[index]) or ("" if guessed else _unit_of(str(stated)))
    quantity = QUANTITIES[name]
    if not unit and quantity.kind == SHARE:
        return Column(index, titles[index], None, guessed)
    factor = quantity.factor(unit or quantity.unit)
    if factor is None:
        faults.add(place, f"unit {quoted(unit)} of {quoted(name)}", listed(quantity.units(), 20))
        return None
    return Column(index, titles[index], factor, guessed)


def _matches(titles: list[str], wanted: tuple[str, ...]) -> list[int]:
    """Columns of a name: as written, else without unit and case."""
    exact = [place for place, title in enumerate(titles) if title in wanted]
    if exact:
        return exact
    for name in wanted:
        alike = [place for place, title in enumerate(titles) if _plain(title) == _plain(name)]
        if alike:
            return alike
    return []


def _plain(title: str) -> str:
    match = _UNIT.match(title)
    return _GAP.sub(" ", (match[1] if match else title).strip().casefold())


def _unit_of(title: str) -> str:
    match = _UNIT.match(title)
    return match[2] if match else ""


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True
