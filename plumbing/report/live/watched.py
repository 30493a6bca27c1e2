"""A layout file under watch: its last good page, and what is wrong with it now."""

from __future__ import annotations

import json
import os
import threading
from datetime import date
from pathlib import Path

from plumbing.checks.examined import examine
from plumbing.checks.logged import logged
from plumbing.errors import Fault, LayoutError, PlumbingError
from plumbing.frozen import frozen
from plumbing.layout import load
from plumbing.layout.logbook import logbook_of
from plumbing.report.decoding import check_photos
from plumbing.report.html import faults_page, html_page
from plumbing.report.subject import Subject
from plumbing.report.words import counted

_Stamp = tuple[int, int, int]
_MOST_FAULTS = 100


@frozen
class News:
    """What there is to tell the page.

    Attributes
    ----------
    number : int
        Counts up from 0.
    event : str
        `report` for a renewed page, `faults` for a broken file, `working` in between.
    data : str
        JSON in one row.
    """

    number: int
    event: str
    data: str


class Watched:
    """A layout file, looked at again and again.

    Attributes
    ----------
    path : str
        The file.
    token : str
        What a page must show that writes into the logbook.
    page : bytes
        Page of the last good file, or of its faults while there has been no good one.
    """

    def __init__(self, path: str, token: str = "") -> None:
        self.path, self.token = path, token
        self.page = b""
        self.news = News(0, "working", "{}")
        self.changed = threading.Condition()
        self.closed = False
        self._stamp: tuple[_Stamp | None, ...] = ()
        self._good = False

    def look(self) -> bool:
        """Read the file again if it was saved since; whether it was."""
        stamp = self._stamped()
        if stamp == self._stamp and self.page:
            return False
        self._stamp = stamp
        if self.page:
            self._tell("working", "{}")
        self._renew()
        return True

    def wait(self, seen: int, seconds: float) -> News:
        """Wait for news later than those seen; the latest there are after that time."""
        with self.changed:
            self.changed.wait_for(lambda: self.closed or self.news.number > seen, seconds)
            return self.news

    def close(self) -> None:
        """Let go of everyone who waits."""
        with self.changed:
            self.closed = True
            self.changed.notify_all()

    def _stamped(self) -> tuple[_Stamp | None, ...]:
        """Stamps of the layout and of its logbook."""
        return tuple(map(_stamp_of, (self.path, logbook_of(self.path))))

    def _renew(self) -> None:
        try:
            layout = load(self.path)
            check_photos(layout)
            examined = examine(layout)
            subject = Subject(examined, logbook=logged(examined.case, date.today()))
            page = html_page(subject, live=str(self.news.number + 1), token=self.token)
        except LayoutError as error:
            self._broken(error.faults, "")
        except PlumbingError as error:
            self._broken((), str(error))
        except Exception as error:  # noqa: BLE001  # the page outlives what nobody foresaw
            self._broken((), f"an error of the program itself: {type(error).__name__}: {error}")
        else:
            self.page, self._good = page.encode(), True
            self._tell("report", "{}")

    def _broken(self, faults: tuple[Fault, ...], words: str) -> None:
        if not self._good:
            name, number = Path(self.path).name, str(self.news.number + 1)
            told = faults[:_MOST_FAULTS]
            self.page = faults_page(name, told, words, number, self.token).encode()
        found = counted(len(faults), "fault")
        said = words or f"{found} in the file; the drawing is the last good one"
        event = "faults" if self._good else "report"
        self._tell(event, json.dumps({"words": said, "faults": fault_data(faults)}))

    def _tell(self, event: str, data: str) -> None:
        with self.changed:
            self.news = News(self.news.number + 1, event, data)
            self.changed.notify_all()


def fault_data(faults: tuple[Fault, ...]) -> list[dict[str, str | int]]:
    """Faults as plain data for the page."""
    return [
        {
            "line": fault.place.line,
            "column": fault.place.column,
            "found": fault.found,
            "expected": fault.expected,
        }
        for fault in faults[:_MOST_FAULTS]
    ]


def _stamp_of(path: str) -> _Stamp | None:
    try:
        found = os.stat(path)
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino
