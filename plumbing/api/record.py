"""The logbook: read, and put a row to. Rows are put in one after the other, whole or not at all."""

from __future__ import annotations

import contextlib
import glob
import os
from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from plumbing.api.door import writing
from plumbing.api.files import opened
from plumbing.errors import Fault, LayoutError, UsageError
from plumbing.place import Place

if TYPE_CHECKING:
    from plumbing.model.layout import Layout
    from plumbing.model.logbook import Entry
    from plumbing.results import NotComputed
    from plumbing.studies.logbook import Logged

_PATIENCE = 20.0  # for another that writes [s]


def logbook(
    layout: Layout | str | os.PathLike[str], today: date | None = None
) -> Logged | NotComputed:
    """Work out what the logbook beside a layout tells.

    Parameters
    ----------
    layout : Layout or path
        A layout, or the file to read it from.
    today : date, optional
        Day on which it is asked; by default today.

    Returns
    -------
    Logged or NotComputed
        Burn, timer and reserve as measured, drift, what is due; or that there is no logbook.

    Raises
    ------
    LayoutError
        The layout or the logbook has faults.
    """
    from plumbing.checks.case import Case
    from plumbing.checks.logged import logged

    return logged(Case(opened(layout)), today or date.today())


def logbook_plot(found: Logged | NotComputed) -> str:
    """Draw what a logbook tells, as SVG text.

    Raises
    ------
    UsageError
        There is none, or it has no two readings of anything.
    """
    from plumbing.drawing.logbook_plot import logbook_charts
    from plumbing.drawing.logbook_plot import logbook_plot as drawn
    from plumbing.results import NotComputed

    if isinstance(found, NotComputed):
        raise UsageError(f"nothing to draw: {found.reason}")
    if not logbook_charts(found):
        raise UsageError("nothing to draw: the logbook has no two readings of anything")
    return drawn(found)


def logbook_path(layout: Layout) -> str:
    """Path of the logbook of a layout, which need not be there."""
    from plumbing.layout.logbook import logbook_of

    return logbook_of(layout.place.file)


def empty_logbook() -> str:
    """A logbook with its first row alone, to be filled in by hand or in a spreadsheet."""
    from plumbing.layout.logbook import empty_logbook as empty

    return empty()


def log(
    layout: Layout | str | os.PathLike[str], row: Mapping[str, str], today: date | None = None
) -> Entry:
    """Put a row to the logbook beside a layout, which is made where there is none.

    The file is replaced by one with the row, under a lock: whoever reads it, and whatever ends
    this in the middle, meets the rows of before or those and the new one.

    Parameters
    ----------
    layout : Layout or path
        A layout, or the file to read it from.
    row : mapping of str to str
        Values by column, with their units; `date` is today where it is missing.
    today : date, optional
        Day on which it is written; by default today. No row is of a later day.

    Returns
    -------
    Entry
        The row as it reads.

    Raises
    ------
    LayoutError
        The layout, the logbook or the row has faults; nothing is written.
    UsageError
        The file cannot be written, or another holds it for too long.
    """
    from plumbing.checks.logged import known_of
    from plumbing.layout.logbook import MOST_BYTES, NEW_ROW, logbook_of, with_row
    from plumbing.layout.logs.lines import bytes_of
    from plumbing.report.words import harmless

    loaded, day = opened(layout), (today or date.today()).isoformat()
    texts = {"date": day, **{key: text for key, text in row.items() if text.strip()}}
    texts = {key: harmless(text) if text.isprintable() else text for key, text in texts.items()}
    path = Path(os.path.realpath(logbook_of(loaded.place.file)))
    known = known_of(loaded)
    with _alone(path):
        before = bytes_of(str(path), path.name, MOST_BYTES)
        content, entry = with_row(before, texts, path.name, known)
        if entry.date > day:
            fault = Fault(Place(NEW_ROW, 1), f"`{entry.date}`, which is to come", f"`{day}`")
            raise LayoutError((fault,))
        with writing(path) as stream:
            stream.write(content)
        _keep_name(path)
    return entry


@contextlib.contextmanager
def _alone(path: Path) -> Iterator[None]:
    """Hold a file while it is replaced; one that was made for that goes where nothing was put in.

    Raises
    ------
    UsageError
        It is no file, cannot be opened, or is held by another for too long.
    """
    from plumbing.studies.study.alone import held_alone

    if path.exists() and not path.is_file():
        raise UsageError(f"cannot write `{path}`: not a file")
    try:
        held = held_alone(path, f"`{path.name}` is being written by another", _PATIENCE)
    except OSError as refused:
        raise UsageError(f"cannot write `{path}`: {refused.strerror}") from None
    with held:
        for left in path.parent.glob(f".{glob.escape(path.name)}.*.part"):
            left.unlink(missing_ok=True)  # of one that was killed: nobody else writes now
        try:
            yield
        except BaseException:
            if not path.stat().st_size:
                path.unlink()
            raise


def _keep_name(path: Path) -> None:
    """Have the folder on the disk too: a file is not safe while its name is not."""
    if hasattr(os, "O_DIRECTORY"):
        number = os.open(path.parent, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(number)
        finally:
            os.close(number)
