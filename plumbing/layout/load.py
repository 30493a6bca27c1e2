"""From a file to a layout, or to all its faults."""

import hashlib
import os
import re
from dataclasses import replace

from plumbing.errors import Fault, LayoutError
from plumbing.layout import characters, photos, references, sense, tree, values
from plumbing.layout.content import content_of
from plumbing.layout.forms import fields_of
from plumbing.layout.gathering import Faults, meant, quoted
from plumbing.layout.graded.keys import ALL_AT_ONCE
from plumbing.layout.reader import GONE, Reader
from plumbing.model.layout import Layout
from plumbing.place import Place

FORMATS = ("1", "2")  # the last is the one that is written
_DIGITS = re.compile(r"[0-9]+")


def load(path: str | os.PathLike[str]) -> Layout:
    """Read a layout file.

    Parameters
    ----------
    path : path
        The file; at most 256 kB.

    Returns
    -------
    Layout
        Everything it holds, in SI, with usual values filled in and listed as assumptions.

    Raises
    ------
    LayoutError
        The file has faults: all of them, each with its place.
    """
    file = os.fspath(path)
    content = read_once(file)
    layout = read(characters.decoded(content, file), file)
    return replace(layout, digest=hashlib.sha256(content).hexdigest())


def names_in(path: str | os.PathLike[str], section: str) -> tuple[str, ...]:
    """Names that a section of a layout file holds; none where it cannot be read.

    Parameters
    ----------
    path : path
        The file.
    section : str
        Its key, such as `tanks`.
    """
    file = os.fspath(path)
    try:
        root = tree.grow(characters.decoded(read_once(file), file), file, Faults())
    except LayoutError:
        return ()
    found = root.entries.get(section) if isinstance(root, tree.Mapping) else None
    return tuple(found.entries) if isinstance(found, tree.Mapping) else ()


def read(text: str, file: str = "layout") -> Layout:
    """Read the text of a layout file.

    Parameters
    ----------
    text : str
        The whole file.
    file : str
        Path to show in places, and beside which meshes are looked for.

    Returns
    -------
    Layout
        As from `load`.

    Raises
    ------
    LayoutError
        The text has faults: all of them, each with its place.
    """
    faults = Faults()
    return read_grown(tree.grow(text.removeprefix("\ufeff"), file, faults), file, faults)


def read_grown(root: tree.Node | None, file: str, faults: Faults) -> Layout:
    """Read a layout from its tree, such as one on which other values were laid.

    Parameters
    ----------
    root : Node or None
        What the text of the file, or of several, grew to.
    file : str
        Path to show in places, and beside which meshes are looked for.
    faults : Faults
        Faults met so far.

    Raises
    ------
    LayoutError
        There are faults: all of them, each with its place.
    """
    if root is None or values.is_nothing(root):
        faults.add(Place(file, 1), "an empty file", "a layout; `plumbing new` writes one to start")
    elif not isinstance(root, tree.Mapping):
        faults.add(root.place, values.described(root), "`key: value` lines, `format: 2` first")
    elif _right_format(root, faults):
        return _read(root, file, faults)
    raise LayoutError(tuple(faults.found))


def _read(root: tree.Mapping, file: str, faults: Faults) -> Layout:
    # These bring arrays, which starters and the schema do not need.
    from plumbing.layout import assume, geometry
    from plumbing.layout.catalogue import catalogue
    from plumbing.layout.graded.expand import expanded
    from plumbing.layout.graded.places import placed

    reader, folder = Reader(faults), os.path.dirname(file)
    root, unsaid = expanded(_with_sections_meant(root, faults), faults)
    layout = reader.layout(root)
    references.check(root, layout, catalogue(), faults)
    sense.check(layout, folder, faults)
    layout = geometry.check(layout, folder, faults, lambda one: placed(one, unsaid))
    layout = photos.check(layout, folder, faults)
    if faults.found:
        raise LayoutError(tuple(faults.found))
    layout = references.with_ports(replace(layout, catalogue=catalogue()))
    return assume.complete(layout, (*unsaid.assumed, *reader.assumed))


def _with_sections_meant(root: tree.Mapping, faults: Faults) -> tree.Mapping:
    """Put misspelt sections under the names that were meant, and note each once.

    So nothing else is said of the parts in them that the rest of the file names.
    """
    known = {**fields_of(Layout), **dict.fromkeys(ALL_AT_ONCE)}
    names = {key: key for key in root.entries}
    for key in root.entries:
        close = None if key in known or key in GONE else meant(key, known)
        if close and close not in names.values():
            faults.unknown(root.keys[key], "unknown key", key, known)
            names[key] = close
    return tree.Mapping(
        {names[key]: node for key, node in root.entries.items()},
        {names[key]: place for key, place in root.keys.items()},
        root.place,
    )


def _right_format(root: tree.Mapping, faults: Faults) -> bool:
    """Whether the file is of the format this program reads; otherwise nothing else is read."""
    node = root.entries.get("format")
    if node is None:
        faults.add(root.place, "a file without `format`", f"`format: {FORMATS[-1]}` as first line")
        return False
    if isinstance(node, tree.Scalar) and node.text in FORMATS:
        return True
    expected = f"`format: {FORMATS[-1]}`, or 1 for an older file"
    if (
        isinstance(node, tree.Scalar)
        and _DIGITS.fullmatch(node.text)
        and int(node.text[:9]) > len(FORMATS)
    ):
        expected += "; a newer plumbing reads it, or set it to 2 and mend what is then reported"
    faults.add(node.place, f"format {values.described(node)}", expected)
    return False


def read_once(file: str) -> bytes:
    """Content of a layout file.

    Raises
    ------
    LayoutError
        It cannot be read, or is too large.
    """
    try:
        content = content_of(file, characters.MOST_BYTES)
    except (OSError, ValueError) as refused:
        reason = getattr(refused, "strerror", None) or "not a path"
        found = f"{quoted(file)}, which cannot be read: {reason.lower()}"
        raise LayoutError((Fault(Place(file, 1), found, "a layout file"),)) from None
    if len(content) > characters.MOST_BYTES:
        raise LayoutError((characters.too_large(file),))
    return content
