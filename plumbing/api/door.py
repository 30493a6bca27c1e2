"""Files out: written whole or not at all, never over an input or a file of somebody else."""

from __future__ import annotations

import contextlib
import os
import stat
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import BinaryIO

from plumbing.errors import UsageError
from plumbing.frozen import frozen

_MARKED = (
    *(".svg", ".png", ".pdf", ".html", ".htm", ".dxf"),
    *(".parquet", ".json", ".stl", ".glb"),
)
AnyPath = str | os.PathLike[str]


@frozen
class Door:
    """What results may be written over.

    A file that is there may be replaced if it is empty, bears this program's mark, or is a table
    (CSV) with the same first row; any other only by force. An input never.

    Attributes
    ----------
    inputs : tuple of str
        Paths of what was read.
    force : bool
        Whether files of somebody else may be replaced.
    """

    inputs: tuple[str, ...] = ()
    force: bool = False

    def write(self, contents: Mapping[AnyPath, bytes]) -> None:
        """Write files by their paths; all are asked for before the first is written.

        Raises
        ------
        UsageError
            One may not be replaced, or cannot be written.
        """
        for path, content in contents.items():
            self.ask(path, content.partition(b"\n")[0])
        for path, content in contents.items():
            with writing(path) as stream:
                stream.write(content)

    def ask(self, path: AnyPath, head: bytes | None = None) -> None:
        """Refuse a path that may not be written; what is no file, such as a pipe, always may.

        Parameters
        ----------
        path : path
            Where something is to be written.
        head : bytes, optional
            First row of the table to be; without it the one that is there is not looked at.

        Raises
        ------
        UsageError
            It is an input, or a file of somebody else.
        """
        if any(_same(path, one) for one in self.inputs):
            raise UsageError(f"`{path}` is an input; write to another file")
        if self.force or not os.path.isfile(path) or _is_ours(Path(path), head):
            return
        raise UsageError(
            f"`{path}` is there, and nothing shows that this program wrote it; "
            "choose another name, or add --force to replace it"
        )


def _same(one: AnyPath, other: AnyPath) -> bool:
    """Whether two paths lead to one file, also by links."""
    with contextlib.suppress(OSError):
        return os.path.samefile(one, other)
    return os.path.realpath(one) == os.path.realpath(other)


def _is_ours(path: Path, head: bytes | None) -> bool:
    from plumbing.drawing.sheet import MARK

    ending = path.suffix.lower()
    try:
        with path.open("rb") as stream:
            if ending in _MARKED:
                content = stream.read()
                return not content or MARK.encode() in content
            row = stream.readline(2 + len(head or b""))
    except OSError as refused:
        raise UsageError(f"cannot read `{path}`: {refused.strerror}") from None
    return not row or (ending == ".csv" and (head is None or row.rstrip(b"\r\n") == head))


@contextlib.contextmanager
def writing(path: AnyPath) -> Iterator[BinaryIO]:
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
        if given.is_file():
            _refuse_read_only(given)
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
    except (OSError, ValueError) as refused:
        reason = getattr(refused, "strerror", None) or refused
        raise UsageError(f"cannot write `{path}`: {reason}") from None


def rewrite(path: AnyPath, before: str, after: str) -> None:
    """Put another text in the place of the one that was read from a file.

    Raises
    ------
    UsageError
        The file is read-only, or no longer holds what was read.
    """
    try:
        unchanged = Path(path).read_bytes() == before.encode()
    except OSError as refused:
        raise UsageError(f"cannot read `{path}`: {refused.strerror}") from None
    if not unchanged:
        raise UsageError(f"`{path}` was changed while this ran; nothing was written, call again")
    with writing(path) as stream:
        stream.write(after.encode())


def make_folder(path: AnyPath) -> None:
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


def _refuse_read_only(path: Path) -> None:
    """A rename would replace a file that its owner has locked; root may write any."""
    if not path.stat().st_mode & 0o222 or not os.access(path, os.W_OK):
        raise UsageError(f"`{path}` is read-only")
