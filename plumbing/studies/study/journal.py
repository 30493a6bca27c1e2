"""Rows kept as they are finished, so that a study goes on where it was interrupted.

A line a row with its checksum, appended and flushed chunk by chunk. A line that is cut short or
damaged, or that is not of the plan, is not a row: its case is computed again. A row that stands
there twice counts once. Only where each row stands is kept in memory, so that a
million rows take no more than a thousand.
"""

from __future__ import annotations

import contextlib
import json
import os
import zlib
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path
from types import TracebackType
from typing import BinaryIO

import numpy as np

from plumbing.errors import UsageError
from plumbing.studies.study.alone import held_alone
from plumbing.studies.study.one import Row
from plumbing.studies.study.plan import Plan

_MISSING = -1
_MOST_REASONS = 1000  # kept in memory
_CHECKED = 9  # bytes of a checksum and the blank behind it


class Journal:
    """The rows finished so far, beside the table to be; open within `with`, by one study alone.

    Parameters
    ----------
    table : path
        The table to be written when all rows are there.
    digest : str
        What the study is, so that rows of another are not taken for its own.
    plan : Plan
        The cases.

    Attributes
    ----------
    done : int
        Number of rows that are there.
    faulty : int
        How many of them lack results.
    reasons : Counter
        How many of them for each reason, of the reasons met first.
    """

    def __init__(self, table: str | os.PathLike[str], digest: str, plan: Plan) -> None:
        self.table = Path(table)
        self.path = self.table.with_name(f"{self.table.name}.rows")
        self.digest, self.plan = digest, plan
        self.done, self.faulty = 0, 0
        self.reasons: Counter[str] = Counter()
        self._at = np.full(len(plan) + 1, _MISSING, dtype=np.int64)
        self._stream: BinaryIO | None = None
        self._end = 0

    def __enter__(self) -> Journal:
        """Open it and find the rows of before.

        Raises
        ------
        UsageError
            The rows are those of another study, another study writes them now, or they cannot be
            read or written.
        """
        with contextlib.ExitStack() as closing:
            closing.callback(self._close)
            try:
                self._stream = held_alone(self.path, f"another study is writing `{self.table}` now")
                self._scan(self._stream)
            except OSError as refused:
                raise self._refused(refused) from None
            closing.pop_all()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Close it; without a row it is not kept."""
        if not self.done:
            self.path.unlink(missing_ok=True)
        self._close()

    def missing(self) -> Iterator[int]:
        """Numbers of the cases that are not there."""
        return (int(number) for number in np.flatnonzero(self._at[1:] == _MISSING) + 1)

    def add(self, rows: Iterable[Row]) -> None:
        """Append rows; those that are there already are left out.

        Raises
        ------
        UsageError
            The file cannot be written.
        """
        stream = self._opened()
        new = [row for row in rows if self._at[row.number] == _MISSING]
        lines = [self._line_of(row) for row in new]
        try:
            stream.seek(self._end)
            stream.write(b"".join(lines))
            stream.flush()
            os.fsync(stream.fileno())
        except OSError as refused:
            raise self._refused(refused) from None
        for row, line in zip(new, lines, strict=True):
            self._keep(row, self._end)
            self._end += len(line)

    def rows(self) -> Iterator[Row]:
        """All rows by number, read one after another."""
        stream = self._opened()
        for at in self._at[1:]:
            stream.seek(int(at))
            row = self._row(stream.readline())
            if row is None:
                raise UsageError(f"`{self.path}` was damaged while this ran; call again")
            yield row

    def remove(self) -> None:
        """Remove it: the table is there."""
        self.path.unlink(missing_ok=True)

    def _scan(self, stream: BinaryIO) -> None:
        head, first = _line({"study": self.digest}), stream.readline()
        if first and first != head[: len(first)]:
            raise UsageError(
                f"`{self.path}` has rows of another study, of changed files or of another version; "
                "finish that one as it was, or remove the file"
            )
        if first != head:
            stream.seek(0)
            stream.truncate()
            stream.write(head)
            stream.flush()
        self._end = len(head)
        for line in stream:
            row = self._row(line)
            if row is not None:
                if self._at[row.number] == _MISSING:
                    self._keep(row, self._end)
            elif not line.endswith(b"\n"):
                break
            self._end += len(line)
        stream.seek(self._end)
        stream.truncate()

    def _line_of(self, row: Row) -> bytes:
        said = _line([row.number, row.values, row.results, row.fault])
        return self._checksum(said) + said

    def _row(self, line: bytes) -> Row | None:
        """The row of a line; None where it is not as it was written, or not of the plan."""
        checksum, said = line[:_CHECKED], line[_CHECKED:]
        if not said.endswith(b"\n") or checksum != self._checksum(said):
            return None
        match _value(said):
            case [int(number), list(values), list(results), str(fault)]:
                if 0 < number < len(self._at) and self.plan.case(number).values == tuple(values):
                    return Row(number, tuple(values), tuple(results), fault)
        return None

    def _checksum(self, said: bytes) -> bytes:
        """CRC-32 of a line, begun with the study, so that no other study's line has it."""
        return b"%08x " % zlib.crc32(said, zlib.crc32(self.digest.encode()))

    def _keep(self, row: Row, at: int) -> None:
        self._at[row.number] = at
        self.done += 1
        if row.fault:
            self.faulty += 1
            if row.fault in self.reasons or len(self.reasons) < _MOST_REASONS:
                self.reasons[row.fault] += 1

    def _opened(self) -> BinaryIO:
        assert self._stream is not None, "a journal is open within `with` only"
        return self._stream

    def _close(self) -> None:
        if self._stream is not None:
            with contextlib.suppress(OSError):  # what could not be written is computed again
                self._stream.close()
            self._stream = None

    def _refused(self, why: OSError) -> UsageError:
        return UsageError(f"cannot keep rows in `{self.path}`: {why.strerror}")


def _line(value: object) -> bytes:
    return json.dumps(value, allow_nan=False).encode() + b"\n"


def _value(line: bytes) -> object:
    try:
        return json.loads(line)
    except ValueError:
        return None
