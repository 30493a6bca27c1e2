"""Files in and out: layouts read, results written whole or not at all."""

from __future__ import annotations

import contextlib
import os
import stat
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO

from plumbing.errors import UsageError

if TYPE_CHECKING:
    from plumbing.model.layout import Layout


def load(path: str | os.PathLike[str]) -> Layout:
    """Read a layout file.

    Parameters
    ----------
    path : path
        The layout file.

    Returns
    -------
    Layout
        Everything it holds, in SI, with usual values filled in and listed as assumptions.

    Raises
    ------
    LayoutError
        The file has faults: all of them, each with its place.
    """
    from plumbing import layout

    return layout.load(os.fspath(path))


def write_whole(path: str | os.PathLike[str], content: bytes) -> None:
    """Write a file whole or not at all.

    Raises
    ------
    UsageError
        The path cannot be written.
    """
    with writing(path) as stream:
        stream.write(content)


@contextlib.contextmanager
def writing(path: str | os.PathLike[str]) -> Iterator[BinaryIO]:
    """Open a file to be written whole or not at all: a neighbour first, then renamed over it.

    Whatever ends the block by an exception leaves the old file. A link stays one, a file keeps
    its permissions, and what is no file, such as a pipe, is written into.

    Raises
    ------
    UsageError
        The path cannot be written.
    """
    given, target = Path(path), Path(os.path.realpath(path))
    try:
        if given.exists() and not given.is_file() and not given.is_dir():
            with given.open("wb") as stream:
                yield stream
            return
        beside = target.with_name(f".{target.name}.{os.getpid()}.part")
        try:
            with beside.open("wb") as stream:
                yield stream
                stream.flush()
                os.fsync(stream.fileno())
            if target.exists():
                beside.chmod(stat.S_IMODE(target.stat().st_mode))
            beside.replace(target)
        finally:
            with contextlib.suppress(OSError):
                beside.unlink(missing_ok=True)
    except OSError as refused:
        raise UsageError(f"cannot write `{path}`: {refused.strerror or refused}") from None


def make_folder(path: str | os.PathLike[str]) -> None:
    """Make a folder unless it is there.

    Raises
    ------
    UsageError
        It cannot be made.
    """
    try:
        Path(path).mkdir(parents=True, exist_ok=True)
    except OSError as refused:
        raise UsageError(f"cannot make the folder `{path}`: {refused.strerror}") from None


def digest_of(file: str) -> str:
    """SHA-256 of a file in hexadecimal; empty where it cannot be read."""
    import hashlib

    try:
        return hashlib.sha256(Path(file).read_bytes()).hexdigest()
    except OSError:
        return ""


def opened(layout: Layout | str | os.PathLike[str]) -> Layout:
    """Give a layout back, or read it from its file."""
    return load(layout) if isinstance(layout, str | os.PathLike) else layout
