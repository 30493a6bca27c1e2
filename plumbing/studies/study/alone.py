"""A file held by one process alone, so that no two write the same rows."""

from __future__ import annotations

import contextlib
import os
import time
from pathlib import Path
from typing import BinaryIO

from plumbing.errors import UsageError

try:
    import fcntl
except ImportError:  # a system without advisory locks: nothing holds a second process off
    fcntl = None  # type: ignore[assignment]

_PAUSE = 0.01  # between looks at a file that another process holds [s]


def held_alone(path: Path, busy: str, patience: float = 0.0) -> BinaryIO:
    """Open a file to read and write, made where it is not there, and hold it.

    The hold ends with the process, however that ends.

    Parameters
    ----------
    path : Path
        The file.
    busy : str
        What to say where another process holds it.
    patience : float
        How long to wait for that one [s].

    Raises
    ------
    UsageError
        Another process holds it.
    OSError
        It cannot be opened.
    """
    until = time.monotonic() + patience
    while True:
        number = os.open(path, os.O_RDWR | os.O_CREAT, 0o666)
        with contextlib.ExitStack() as closing:
            stream = closing.enter_context(os.fdopen(number, "r+b"))
            if fcntl is not None:
                _hold(number, busy, until)
            if _is_there(path, number):
                closing.pop_all()
                return stream
        # whoever held it finished and removed or replaced it in between


def _hold(number: int, busy: str, until: float) -> None:
    while True:
        try:
            fcntl.flock(number, fcntl.LOCK_EX | fcntl.LOCK_NB)
            return
        except BlockingIOError:
            if time.monotonic() >= until:
                raise UsageError(busy) from None
            time.sleep(_PAUSE)
        except OSError:  # a file system that knows no locks
            return


def _is_there(path: Path, number: int) -> bool:
    with contextlib.suppress(FileNotFoundError):
        return os.path.samestat(os.stat(path), os.fstat(number))
    return False
