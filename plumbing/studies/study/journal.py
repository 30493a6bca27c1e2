"""Rows kept as they are finished, so that a study goes on where it was interrupted.

A line a row, appended and flushed chunk by chunk. A line cut short by a crash is not a row; a
row that stands there twice counts once.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable
from pathlib import Path

from plumbing.errors import UsageError
from plumbing.studies.study.one import Row


class Journal:
    """The rows finished so far, beside the table to be.

    Parameters
    ----------
    table : path
        The table to be written when all rows are there.
    digest : str
        What the study is, so that rows of another are not taken for its own.
    """

    def __init__(self, table: str | os.PathLike[str], digest: str) -> None:
        target = Path(table)
        self.path = target.with_name(f"{target.name}.rows")
        self.digest = digest

    def read(self) -> dict[int, Row]:
        """Rows finished before, by number; a line cut short is dropped from the file.

        Raises
        ------
        UsageError
            The rows are those of another study, or cannot be read.
        """
        try:
            content = self.path.read_bytes()
        except FileNotFoundError:
            return {}
        except OSError as refused:
            raise UsageError(f"cannot read `{self.path}`: {refused.strerror}") from None
        whole = content[: content.rfind(b"\n") + 1]
        lines = whole.splitlines()
        if lines and _value(lines[0]) != {"study": self.digest}:
            raise UsageError(
                f"`{self.path}` has rows of another study; finish that one, or remove the file"
            )
        if len(whole) < len(content):
            os.truncate(self.path, len(whole))
        rows = (_row(line) for line in lines[1:])
        return {row.number: row for row in rows if row is not None}

    def add(self, rows: Iterable[Row]) -> None:
        """Append rows.

        Raises
        ------
        UsageError
            The file cannot be written.
        """
        try:
            with self.path.open("ab") as stream:
                if not stream.tell():
                    stream.write(_line({"study": self.digest}))
                for row in rows:
                    stream.write(_line([row.number, row.values, row.results, row.fault]))
                stream.flush()
                os.fsync(stream.fileno())
        except OSError as refused:
            raise UsageError(f"cannot write `{self.path}`: {refused.strerror}") from None

    def remove(self) -> None:
        """Remove it: the table is there."""
        self.path.unlink(missing_ok=True)


def _line(value: object) -> bytes:
    return json.dumps(value, ensure_ascii=False, allow_nan=False).encode() + b"\n"


def _value(line: bytes) -> object:
    try:
        return json.loads(line)
    except ValueError:
        return None


def _row(line: bytes) -> Row | None:
    match _value(line):
        case [int(number), list(values), list(results), str(fault)]:
            return Row(number, tuple(values), tuple(results), fault)
    return None
