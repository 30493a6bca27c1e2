"""The logbook beside a layout file: read with every fault at its place, and a row put to it."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from io import StringIO
from pathlib import PurePath

from plumbing.errors import Fault, LayoutError
from plumbing.frozen import frozen
from plumbing.layout import characters
from plumbing.layout.forms import fields_of
from plumbing.layout.gathering import Faults, listed, quoted
from plumbing.layout.logs.header import DELIMITERS, Header, cells_of, place_of
from plumbing.layout.logs.lines import bytes_of, text_lines
from plumbing.layout.reader import Reader
from plumbing.layout.tree import Mapping as Keyed
from plumbing.layout.tree import Scalar
from plumbing.model.logbook import Entry, on_board
from plumbing.place import Place
from plumbing.units import show

ENDING = ".logbook.csv"
COLUMNS = tuple(fields_of(Entry))
NEW_ROW = "the new row"
MOST_BYTES = 5_000_000
_ROOM = 1.05  # lines hold fuel too, and measuring jugs are coarse
_DAY = re.compile(r"\d{4}-\d\d-\d\d")


@frozen
class Known:
    """What the rows of a logbook are held to.

    Attributes
    ----------
    names : tuple of str
        What a row may name as its part.
    holds : float
        What all tanks hold brim-full [m3].
    """

    names: tuple[str, ...]
    holds: float


def logbook_of(file: str) -> str:
    """Path of the logbook of a layout file, which need not be there."""
    return str(PurePath(file).with_suffix(ENDING))


def read_logbook(path: str, known: Known) -> tuple[Entry, ...]:
    """Read a logbook from its file; see `entries_of`."""
    return entries_of(bytes_of(path, path, MOST_BYTES), path, known)


def entries_of(content: bytes, file: str, known: Known) -> tuple[Entry, ...]:
    """Read a logbook.

    Parameters
    ----------
    content : bytes
        The whole file; an empty one has no rows.
    file : str
        Path to show in places.
    known : Known
        What its rows are held to.

    Returns
    -------
    tuple of Entry
        By day; those of one day as they stand.

    Raises
    ------
    LayoutError
        It has faults: all of them, each with its place.
    """
    if not content.strip():
        return ()
    faults, lines = Faults(), text_lines(content, file)
    heads, delimiter = _heads(lines[0], file, faults)
    if faults.found:
        raise LayoutError(tuple(faults.found))
    reader, found = Reader(faults), []
    for number, line in enumerate(lines[1:], start=2):
        if line.strip(f"{delimiter} \t"):
            row = _row(line, Place(file, number), heads, delimiter, faults)
            entry = None if row is None else reader.record(Entry, row, f"row {number}")
            if isinstance(entry, Entry):
                found.append(entry)
                _check(entry, known.names, faults)
    found.sort(key=lambda one: one.date)
    if not faults.found:
        _check_fuel(found, known.holds, faults)
    if faults.found:
        raise LayoutError(tuple(faults.found))
    return tuple(found)


def with_row(
    content: bytes, texts: Mapping[str, str], file: str, known: Known
) -> tuple[bytes, Entry]:
    """Put a row to a logbook; every byte that is there stays.

    Parameters
    ----------
    content : bytes
        The whole file, or nothing.
    texts : mapping of str to str
        By column, with units, as somebody wrote them.
    file : str
        Path to show in places.
    known : Known
        What its rows are held to.

    Returns
    -------
    bytes, Entry
        The file with the row, and the row as it reads.

    Raises
    ------
    LayoutError
        The file or the row has faults.
    """
    entries_of(content, file, known)
    strange = [head for head, text in texts.items() if not text.isprintable()]
    if strange:
        found = f"a character that does not print in {listed(strange)}"
        raise LayoutError((Fault(Place(NEW_ROW, 1), found, "one line of text"),))
    before = content if content.strip() else empty_logbook().encode()
    heads, delimiter = _heads(text_lines(before, file)[0], file, Faults())
    end = b"\r\n" if b"\r\n" in before else b"\n"
    row = _written([texts.get(head, "") for head in heads], delimiter)
    whole = before + (b"" if before.endswith((b"\n", b"\r")) else end) + row.encode() + end
    number = len(text_lines(whole, file)) - 1
    missing = [head for head in texts if head not in heads]
    try:
        if missing:
            found = f"no column {listed(missing)} in the file"
            raise LayoutError((Fault(Place(file, number), found, "it in the first row there"),))
        entries = entries_of(whole, file, known)
    except LayoutError as error:
        raise LayoutError(tuple(_of_new(one, number) for one in error.faults)) from None
    return whole, next(one for one in entries if one.place.line == number)


def empty_logbook() -> str:
    """A logbook with its first row alone."""
    return _written(COLUMNS, ",") + "\n"


def _heads(line: str, file: str, faults: Faults) -> tuple[list[str], str]:
    """Columns by the first row, and the sign between them."""
    delimiter = max(DELIMITERS, key=line.count)
    heads = [head.strip().lower() for head in cells_of(line, delimiter)]
    place, expected = Place(file, 1), f"a first row such as `{','.join(COLUMNS)}`"
    for head in dict.fromkeys(heads):
        if heads.count(head) > 1:
            faults.add(place, f"column {quoted(head)} twice", "every column once")
        if head not in COLUMNS:
            faults.unknown(place, "no column", head, COLUMNS)
    needed = (key for key, field in fields_of(Entry).items() if field.required)
    missing = [key for key in needed if key not in heads]
    if missing:
        faults.add(place, f"a first row without {listed(missing)}", expected)
    return heads, delimiter


def _row(
    line: str, place: Place, heads: Sequence[str], delimiter: str, faults: Faults
) -> Keyed | None:
    """A row as a mapping with the keys of an entry; None where it is not one, with the fault."""
    hidden = characters.refused_in(line.replace("\t", " "))
    if hidden is not None:
        faults.add(place, f"{hidden} inside a cell", "letters, digits and signs that print")
        return None
    cells = [cell.strip().removeprefix("'") for cell in cells_of(line, delimiter)]
    if line.count('"') % 2:
        faults.add(place, "a quotation mark that is not closed", "one before and one behind a text")
        return None
    if len(cells) != len(heads):
        expected = f"{len(heads)}, one a column; a text with `{delimiter}` in it stands in quotes"
        faults.add(place, f"{len(cells)} cells in a row", expected)
        return None
    header = Header(1, delimiter, len(heads), {})
    entries = {
        head: Scalar(cell, False, place_of(line, place.line, spot, header, place.file))
        for spot, (head, cell) in enumerate(zip(heads, cells, strict=True))
        if cell
    }
    return Keyed(dict(entries), {head: one.place for head, one in entries.items()}, place)


def _check(entry: Entry, names: Sequence[str], faults: Faults) -> None:
    """Note a day that there is not, a part that there is not, and care of nothing."""
    try:
        day = date.fromisoformat(entry.date) if _DAY.fullmatch(entry.date) else None
    except ValueError:
        day = None
    if day is None:
        faults.add(entry.place_of("date"), quoted(entry.date), "a day such as `2026-05-01`")
    if entry.part is not None and entry.part not in names:
        faults.unknown(entry.place_of("part"), "no part", entry.part, names)
    if entry.kind == "care" and entry.part is None:
        faults.add(entry.place, "care of no part", f"a part, such as `{names[0]}`")


def _check_fuel(entries: Sequence[Entry], holds: float, faults: Faults) -> None:
    """Note more fuel than the tanks hold, and more left than was on board."""
    for one, held in zip(entries, on_board(entries), strict=True):
        full = max(held or 0.0, one.filled or 0.0)
        if full > _ROOM * holds:
            found = f"{show(full, 'volume')} on board of tanks that hold {show(holds, 'volume')}"
            faults.add(one.place_of("filled"), found, "what was filled since the row before")
        if held is not None and one.left is not None and one.left > held:
            found = f"{show(one.left, 'volume')} left of {show(held, 'volume')} on board"
            faults.add(one.place_of("left"), found, "no more than was left before and filled since")


def _written(cells: Iterable[str], delimiter: str) -> str:
    """A row as text, without the end of its line."""
    out = StringIO()
    csv.writer(out, delimiter=delimiter, lineterminator="").writerow(list(cells))
    return out.getvalue()


def _of_new(fault: Fault, number: int) -> Fault:
    """A fault of the row that is not written yet, without a line that the file does not have."""
    if fault.place.line != number:
        return fault
    return Fault(Place(NEW_ROW, 1, fault.place.column), fault.found, fault.expected)
