"""Changing the text of a layout file where its values stand; every comment and blank stays."""

import hashlib
import json
import re
from collections.abc import Mapping

from ruamel.yaml import YAML
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from plumbing.errors import UsageError
from plumbing.layout import characters, tree
from plumbing.layout.differences import Path, Plain
from plumbing.layout.gathering import Faults

_PLAIN = re.compile(r"[^\W\d_][\w./-]*(?: [\w./-]+)*")
_QUANTITY = re.compile(r"-?\d+(?:\.\d+)?(?:e[-+]?\d+)?(?: [^\W\d_%][\w/]*| %)?(?: m)?", re.ASCII)
_WORDS = ("null", "true", "false", "yes", "no", "on", "off")
_MARK = "\ufeff"


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


def changed(text: str, file: str, values: Mapping[Path, Plain | None]) -> str:
    """Text with entries changed, added or taken out.

    Parameters
    ----------
    text : str
        Text of a layout file.
    file : str
        Its path, for messages.
    values : mapping of tuple of str to str, list, dict or None
        New values by their keys from the top, such as `("lines", "feed", "tube")`; None where
        the entry is to go.

    Returns
    -------
    str
        The text, changed at those entries only.

    Raises
    ------
    LayoutError
        The text cannot be parsed.
    UsageError
        An entry is written in a way that cannot be changed without touching its surroundings.
    """
    mark = _MARK * text.startswith(_MARK)
    body = text.removeprefix(mark)
    tree.grow(body, file, Faults())
    for path, value in values.items():
        body = _one(body, path, value)
    again = tree.grow(body, file, Faults())
    for path, value in values.items():
        if _plain(again, path) != value:
            raise UsageError(f"`{'.'.join(path)}` cannot be changed safely; change it by hand")
    return mark + body


def flow(value: Plain) -> str:
    """A value as YAML in one line."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{written(key)}: {flow(one)}" for key, one in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(flow(one) for one in value) + "]"
    return written(value)


def written(value: str) -> str:
    """A text as a YAML value: plain where that is safe, else in quotes."""
    if _QUANTITY.fullmatch(value) or value in ("yes", "no"):
        return value
    if _PLAIN.fullmatch(value) and value.casefold() not in _WORDS:
        return value
    return json.dumps(value, ensure_ascii=False)


def _one(text: str, path: Path, value: Plain | None) -> str:
    """Text with one entry changed, added or taken out."""
    node: Node = YAML(pure=True).compose(text)
    holder = name = node
    for depth, key in enumerate(path):
        holder, found = node, _entry(node, key)
        if found is None:
            if value is None:
                return text
            return _added(text, holder, key, _nested(path[depth + 1 :], value), path)
        name, node = found
    if value is None:
        return _without(text, holder, path[-1])
    if isinstance(node, ScalarNode) and node.style in ("|", ">"):
        raise UsageError(f"`{'.'.join(path)}` is written in a way that is changed by hand only")
    colon = text.index(":", _end(name)) + 1
    begin = colon if text[colon : _start(node)].strip(" ") else _start(node)
    gap = " " if begin == colon else ""
    return text[:begin] + gap + flow(value) + text[_end(node) :]


def _entry(node: Node, key: str) -> tuple[Node, Node] | None:
    pairs = node.value if isinstance(node, MappingNode) else ()
    return next(((one, other) for one, other in pairs if one.value == key), None)


def _nested(path: Path, value: Plain) -> Plain:
    for key in reversed(path):
        value = {key: value}
    return value


def _added(text: str, holder: Node, key: str, value: Plain, path: Path) -> str:
    """Text with an entry at the end of a mapping, or of a section that is empty."""
    entry = f"{written(key)}: {flow(value)}"
    if isinstance(holder, ScalarNode) and not holder.value and holder.style is None:
        at = _start(holder)
        return f"{text[:at]} {{{entry}}}{text[at:]}"
    if not isinstance(holder, MappingNode):
        raise UsageError(f"`{'.'.join(path)}` has no place in the file; write it by hand")
    if holder.flow_style:
        at = _end(holder.value[-1][1]) if holder.value else _start(holder) + 1
        return text[:at] + (", " if holder.value else "") + entry + text[at:]
    first, last = holder.value[0][0], holder.value[-1][1]
    at = _row_end(text, _end(last))
    break_ = "\r\n" if "\r\n" in text else "\n"
    if not text[:at].endswith("\n"):
        return f"{text[:at]}{break_}{' ' * first.start_mark.column}{entry}{text[at:]}"
    return f"{text[:at]}{' ' * first.start_mark.column}{entry}{break_}{text[at:]}"


def _without(text: str, holder: Node, key: str) -> str:
    """Text without an entry: with its comma in braces, with its rows in a block."""
    assert isinstance(holder, MappingNode)
    number = next(n for n, (one, _) in enumerate(holder.value) if one.value == key)
    one, value = holder.value[number]
    if not holder.flow_style:
        begin = text.rfind("\n", 0, _start(one)) + 1
        return text[:begin] + text[_row_end(text, _end(value)) :]
    if number + 1 < len(holder.value):
        return text[: _start(one)] + text[_start(holder.value[number + 1][0]) :]
    begin = _end(holder.value[number - 1][1]) if number else _start(one)
    return text[:begin] + text[_end(value) :]


def _start(node: Node) -> int:
    return int(node.start_mark.index)


def _end(node: Node) -> int:
    """Where a node ends; the parser's mark of a block is where the next token begins."""
    if not isinstance(node, MappingNode | SequenceNode) or node.flow_style or not node.value:
        return int(node.end_mark.index)
    last = node.value[-1]
    return _end(last[1] if isinstance(node, MappingNode) else last)


def _row_end(text: str, at: int) -> int:
    """Behind the line break that ends the row."""
    end = text.find("\n", at)
    return len(text) if end < 0 else end + 1


def _plain(node: tree.Node | None, path: Path = ()) -> Plain | None:
    """What a tree holds at a path, as texts; None where there is nothing."""
    for key in path:
        node = node.entries.get(key) if isinstance(node, tree.Mapping) else None
    if isinstance(node, tree.Scalar):
        return node.text
    if isinstance(node, tree.Sequence):
        return [_plain(one) or "" for one in node.items]
    if isinstance(node, tree.Mapping):
        return {key: _plain(one) or "" for key, one in node.entries.items()}
    return None
