"""A bench form that was filled in: its rows read like values under `measured:` in a layout."""

from __future__ import annotations

import os
from collections.abc import Iterator

from plumbing.errors import LayoutError
from plumbing.layout import characters
from plumbing.layout.gathering import Faults
from plumbing.layout.logs.header import DELIMITERS, cells_of
from plumbing.layout.logs.lines import lines_of
from plumbing.layout.reader import Reader
from plumbing.layout.tree import Mapping, Node, Scalar
from plumbing.model.layout import Layout
from plumbing.model.measured import MEASURES, Measured
from plumbing.place import Place

# Columns of the form. Those in `_READ` are read back; the others are for the eye.
COLUMNS = (
    "test", "what", "part", "state", "conditions", "predicted", "band from", "band to", "limit",
    "reading", "at-flow", "temperature", "on", "by", "instrument",
)  # fmt: skip
_READ = ("what", "part", "state", "at-flow", "temperature", "on", "by", "instrument")
_NEEDED = ("what", "part", "reading")
_MOST_ROWS = 10_000


def read_readings(path: str | os.PathLike[str], layout: Layout) -> tuple[Measured, ...]:
    """Read a bench form; rows without a reading are passed over.

    Parameters
    ----------
    path : path
        CSV file with the columns of the form, in any order; others are passed over.
    layout : Layout
        The layout whose parts it names.

    Raises
    ------
    LayoutError
        It has faults: all of them, each with its place.
    """
    file, faults = os.fspath(path), Faults()
    found = [
        Reader(faults).record(Measured, row, "", f"row {row.place.line}")
        for row in _rows(file, faults)
        if not _strange(row, layout, faults)
    ]
    if faults.found:
        raise LayoutError(tuple(faults.found))
    return tuple(one for one in found if isinstance(one, Measured))


def _rows(file: str, faults: Faults) -> Iterator[Mapping]:
    """Rows with a reading, as mappings with the keys of a measured value."""
    lines = lines_of(file, file)
    delimiter = max(DELIMITERS, key=lines[0].count)
    heads = [head.strip().lower() for head in cells_of(lines[0], delimiter)]
    missing = [name for name in _NEEDED if name not in heads]
    if missing:
        expected = "the first row of the form: " + ", ".join(COLUMNS)
        faults.add(Place(file, 1), f"a first row without {' and '.join(missing)}", expected)
        return
    if len(lines) > _MOST_ROWS:
        faults.add(Place(file, 1), f"a form of {len(lines)} rows", f"at most {_MOST_ROWS}")
        return
    for number, line in enumerate(lines[1:], start=2):
        cells = dict(zip(heads, map(_plain, cells_of(line, delimiter)), strict=False))
        if cells.get("reading"):
            yield _row(cells, Place(file, number))


def _plain(cell: str) -> str:
    """A cell without the apostrophe that keeps a spreadsheet from taking it for a formula."""
    return cell.strip().removeprefix("'")


def _row(cells: dict[str, str], place: Place) -> Mapping:
    entries: dict[str, Node] = {}
    for name in _READ:
        if cells.get(name):
            entries[name] = Scalar(cells[name], False, place)
    kind = MEASURES.get(cells.get("what", ""))
    if kind is not None:
        entries[kind] = Scalar(cells["reading"], False, place)
    return Mapping(entries, dict.fromkeys(entries, place), place)


def _strange(row: Mapping, layout: Layout, faults: Faults) -> bool:
    """Whether a row holds what no text may, or names what is not there; the fault is noted."""
    texts = {name: node.text for name, node in row.entries.items() if isinstance(node, Scalar)}
    hidden = next(filter(None, map(characters.refused_in, texts.values())), None)
    if hidden is not None:
        faults.add(row.place, f"{hidden} inside a cell", "letters, digits and signs that print")
        return True
    part = texts.get("part", "")
    names = {one.name for one in layout.parts()} | set(layout.lines)
    if part and part not in names:
        faults.unknown(row.place, "no part", part, sorted(names))
        return True
    return False
