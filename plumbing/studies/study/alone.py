"""A file held by one process alone, so that two studies never write the same rows."""

from __future__ import annotations

import contextlib
import os
from pathlib import Path
from typing import BinaryIO

from plumbing.errors import UsageError

try:
    import fcntl
except ImportError:  # a system without advisory locks: nothing holds a second study off
    fcntl = None  # type: ignore[assignment]


def held_alone(path: Path, table: Path) -> BinaryIO:
    """Open a file to read and write, made where it is not there, and hold it.

    The hold ends with the process, however that ends.

    Raises
    ------
    UsageError
        Another process holds it.
    OSError
        It cannot be opened.
    """
    while True:
        number = os.open(path, os.O_RDWR | os.O_CREAT, 0o666)
        with contextlib.ExitStack() as closing:
            stream = closing.enter_context(os.fdopen(number, "r+b"))
            if fcntl is not None:
                _hold(number, table)
            if _is_there(path, number):
                closing.pop_all()
                return stream
        # another study finished and removed it in between


def _hold(number: int, table: Path) -> None:
    try:
        fcntl.flock(number, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        raise UsageError(f"another study is writing `{table}` now") from None
    except OSError:  # a file system that knows no locks
        return


def _is_there(path: Path, number: int) -> bool:
    with contextlib.suppress(FileNotFoundError):
        return os.path.samestat(os.stat(path), os.fstat(number))
    return False
