"""Files in: each is read once, and what is said of it is said of those bytes."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

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

    found = layout.load(os.fspath(path))
    if found.limits:
        from plumbing.checks.limits import limits_in_force

        limits_in_force(found)
    return found


def names_in(path: str | os.PathLike[str], section: str) -> tuple[str, ...]:
    """Names that a section of a layout file holds, such as `tanks`; none where it has faults."""
    from plumbing import layout

    return layout.names_in(path, section)


def opened(layout: Layout | str | os.PathLike[str]) -> Layout:
    """Give a layout back, or read it from its file."""
    return load(layout) if isinstance(layout, str | os.PathLike) else layout


def read_for(layout: Layout) -> tuple[str, ...]:
    """Paths of a layout's file, of every file it names, and of its logbook."""
    from plumbing.layout.logbook import logbook_of

    file = layout.place.file
    folder = os.path.dirname(file)
    return (file, logbook_of(file), *(os.path.join(folder, name) for name in layout.files_named()))


def upgraded(path: str | os.PathLike[str]) -> tuple[str, str]:
    """Text of a layout file, and the same in the format that is written now.

    Parameters
    ----------
    path : path
        A layout of any format that can be read.

    Returns
    -------
    tuple of str
        Before and after; the same twice where nothing is to be changed.

    Raises
    ------
    LayoutError
        The file has faults.
    """
    from plumbing.layout import read
    from plumbing.layout.edit import text_of
    from plumbing.layout.upgrading import upgraded as rewritten

    layout = load(path)
    file = layout.place.file
    text = text_of(file, layout.digest)
    after = rewritten(text, file)
    read(after, file)
    return text, after
