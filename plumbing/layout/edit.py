"""Changing single values in the text of a layout file; every comment and blank stays."""

import hashlib
import json
import re
from collections.abc import Mapping

from plumbing.errors import UsageError
from plumbing.layout import characters, tree
from plumbing.layout.gathering import Faults, quoted

_PLAIN = re.compile(r"[^\W\d_][\w./-]*(?: [\w./-]+)*")
_WORDS = ("null", "true", "false", "yes", "no", "on", "off")
_MARK = "\ufeff"
_ROW = re.compile(r"[^\r\n]*(?:\r\n|\r|\n|$)")
Path = tuple[str, ...]


def text_of(file: str, digest: str) -> str:
    """Text of a layout file, its byte-order mark and line ends as they are.

    Raises
    ------
    UsageError
        It cannot be read, or its bytes no longer have this SHA-256.
    """
    try:
        with open(file, "rb") as stream:
            content = stream.read(characters.MOST_BYTES + 1)
    except OSError as refused:
        raise UsageError(f"cannot read `{file}`: {refused.strerror}") from None
    if hashlib.sha256(content).hexdigest() != digest:
        raise UsageError(f"`{file}` was changed since it was read; nothing was written, call again")
    return _MARK * content.startswith(_MARK.encode()) + characters.decoded(content, file)


def changed(text: str, file: str, values: Mapping[Path, str]) -> str:
    """Text with values replaced where they stand.

    Parameters
    ----------
    text : str
        Text of a layout file.
    file : str
        Its path, for messages.
    values : mapping of tuple of str to str
        New values by their keys from the top, such as `("lines", "feed", "tube")`. The keys
        must be there and hold a single value each.

    Returns
    -------
    str
        The text, changed at those values only.

    Raises
    ------
    LayoutError
        The text cannot be parsed.
    UsageError
        A value is not there, or cannot be changed without touching its surroundings.
    """
    mark = _MARK * text.startswith(_MARK)
    body = text.removeprefix(mark)
    root = tree.grow(body, file, Faults())
    starts = [0, *(found.end() for found in _ROW.finditer(body))]
    spans = []
    for path, value in values.items():
        node = _scalar(root, path)
        if node.text == value:
            continue
        begin = starts[node.place.line - 1] + node.place.column - 1
        spans.append((begin, _end(body, begin, node, path), value))
    for begin, end, value in sorted(spans, reverse=True):
        body = body[:begin] + written(value) + body[end:]
    again = tree.grow(body, file, Faults())
    for path, value in values.items():
        if _scalar(again, path).text != value:
            raise UsageError(f"`{'.'.join(path)}` cannot be changed safely; change it by hand")
    return mark + body


def written(value: str) -> str:
    """A text as a YAML value: plain where that is safe, else in quotes."""
    if _PLAIN.fullmatch(value) and value.casefold() not in _WORDS:
        return value
    return json.dumps(value, ensure_ascii=False)


def _scalar(root: tree.Node | None, path: Path) -> tree.Scalar:
    node = root
    for key in path:
        node = node.entries.get(key) if isinstance(node, tree.Mapping) else None
    if not isinstance(node, tree.Scalar):
        raise UsageError(f"the file has no value at {quoted('.'.join(path))}")
    return node


def _end(text: str, begin: int, node: tree.Scalar, path: Path) -> int:
    """Where the value that begins there ends."""
    if not node.quoted and text.startswith(node.text, begin):
        return begin + len(node.text)
    for mark in "'\"":
        if node.quoted and text.startswith(f"{mark}{node.text}{mark}", begin):
            return begin + len(node.text) + 2
    raise UsageError(f"`{'.'.join(path)}` is written in a way that is changed by hand only")
