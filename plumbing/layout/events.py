"""The parser's events of a text: what begins and ends where.

libyaml reads what is well and plainly written, fifteen times as fast; any other text is read by
ruamel.yaml, which follows YAML 1.2 to the letter and says what is wrong and where.
"""

import re
from collections.abc import Iterator
from typing import Any, NamedTuple

import yaml

from plumbing.errors import Fault, LayoutError
from plumbing.place import Place

# Tabs, anchors, aliases, tags, blocks of text, `?`, directives and quoted keys: the two readers
# do not agree on all of them.
_UNUSUAL = re.compile(r"\t|(?:^|[\s,\[{:-])[&*!|>?]|^%|[\"']\s*:", re.MULTILINE)


class Event(NamedTuple):
    """Something that begins or ends.

    Attributes
    ----------
    kind : str
        The parser's word for it, such as `Scalar` or `MappingStart`.
    line, column : int
        Where it begins, counted from 1.
    text : str
        Text of a scalar, without quotes.
    quoted : bool
        Whether a scalar stands in quotes or in a block of text.
    anchor, tag : str, optional
        As written.
    """

    kind: str
    line: int
    column: int
    text: str
    quoted: bool
    anchor: str | None
    tag: str | None


def events(text: str, file: str) -> Iterator[Event]:
    """Events of a text, in order; `file` is its path, for places.

    Raises
    ------
    LayoutError
        It is not well written; the events before are given first.
    """
    return _read_quickly(text) or _read_slowly(text, file)


def _read_quickly(text: str) -> Iterator[Event] | None:
    """Events where libyaml reads what ruamel.yaml would, and nothing where it may not."""
    if _UNUSUAL.search(text) or not yaml.__with_libyaml__:
        return None
    try:
        found = [_event(one) for one in yaml.parse(text, Loader=yaml.CSafeLoader)]
    except (yaml.YAMLError, ValueError):
        return None
    empty = any(one.kind == "Scalar" and not (one.text or one.quoted) for one in found)
    return None if empty else iter(found)  # the place of a value that is missing differs


def _read_slowly(text: str, file: str) -> Iterator[Event]:
    from ruamel.yaml import YAML  # slow to import
    from ruamel.yaml.error import YAMLError

    from plumbing.layout import syntax

    try:
        yield from map(_event, YAML(typ="safe", pure=True).parse(text))
    except YAMLError as error:
        raise LayoutError((syntax.fault_of(error, text, file),)) from None
    except (ValueError, OverflowError, IndexError, AttributeError, TypeError):
        fault = Fault(Place(file, 1), "text that cannot be read", "`key: value` lines in YAML 1.2")
        raise LayoutError((fault,)) from None


def _event(event: Any) -> Event:
    mark, tag = event.start_mark, getattr(event, "tag", None)
    return Event(
        type(event).__name__.removesuffix("Event"),
        mark.line + 1,
        mark.column + 1,
        getattr(event, "value", ""),
        bool(getattr(event, "style", None)),
        getattr(event, "anchor", None),
        None if tag is None else str(tag),
    )
