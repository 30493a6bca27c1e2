"""Files in and out: layouts read, results written whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

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
    """Write a file whole or not at all: to a neighbour first, then renamed over.

    Raises
    ------
    UsageError
        The path cannot be written.
    """
    target = Path(path)
    beside = target.with_name(f".{target.name}.{os.getpid()}.part")
    try:
        beside.write_bytes(content)
        beside.replace(target)
    except OSError as refused:
        beside.unlink(missing_ok=True)
        raise UsageError(f"cannot write `{target}`: {refused.strerror}") from None


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
