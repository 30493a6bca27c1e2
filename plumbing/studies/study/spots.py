"""Spots of a layout by key path: what may stand there, and laying another value there."""

from __future__ import annotations

import re

from plumbing.layout.forms import Form, Items, Record, Row, Section, Tagged, fields_of
from plumbing.layout.gathering import Faults
from plumbing.layout.tree import Mapping, Node, Sequence
from plumbing.model.layout import Layout
from plumbing.place import Place
from plumbing.studies.study.moving import AXES, HOW_FAR, moved, moves
from plumbing.studies.study.written import Path

WHOLE = Record(Layout)
_PLACE = re.compile(r"[0-9]{1,9}")  # in a list, from 1


def split(text: str, root: Mapping) -> Path:
    """Split a key path such as `lines.feed.tube`; names with a point in them are kept whole."""
    words, path = text.split("."), []
    node: Node | None = root
    while words:
        count = 1
        if isinstance(node, Mapping):
            there = (n for n in range(len(words), 0, -1) if ".".join(words[:n]) in node.entries)
            count = next(there, 1)
        key, words = ".".join(words[:count]), words[count:]
        path.append(key)
        node = _child(node, key)
    return tuple(path)


def _child(node: Node | None, key: str) -> Node | None:
    if isinstance(node, Mapping):
        return node.entries.get(key)
    if isinstance(node, Sequence) and _PLACE.fullmatch(key) and 1 <= int(key) <= len(node.items):
        return node.items[int(key) - 1]
    return None


def form_at(path: Path, root: Mapping, place: Place, faults: Faults) -> Form | None:
    """What a layout may hold there; None, with a fault noted, where nothing can be laid.

    Parameters
    ----------
    path : tuple of str
        Keys from the top; items of lists by their number from 1.
    root : Mapping
        The layout's tree: parts by name and items of lists must stand in it.
    place : Place
        Where the path is written.
    faults : Faults
        Receives the fault.
    """
    form: Form | None = WHOLE
    node: Node | None = root
    for number, key in enumerate(path):
        last = number == len(path) - 1
        if last and moves(path) and isinstance(form, Record) and isinstance(node, Mapping):
            return HOW_FAR
        known = _inside(form, node) if form is not None else {}
        within = f"in `{'.'.join(path[:number])}`" if number else "in a layout"
        if key not in known:
            faults.unknown(place, f"{within}, unknown key", key, known)
            return None
        form, node = known[key], _child(node, key)
        if node is None and not last and not isinstance(form, Record):
            found = f"`{'.'.join(path[: number + 1])}`, which the layout does not have"
            faults.add(place, found, "the path of something that stands in the layout file")
            return None
    return form


def _inside(form: Form, node: Node | None) -> dict[str, Form]:
    """Keys that may follow, with what may stand there."""
    if isinstance(form, Record):
        return {key: field.form for key, field in fields_of(form.cls).items()}
    if isinstance(node, Mapping):
        if isinstance(form, Section):
            return dict.fromkeys(node.entries, form.item)
        if isinstance(form, Tagged):
            return {key: Record(form.kinds[key]) for key in node.entries if key in form.kinds}
    if isinstance(node, Sequence):
        if isinstance(form, Row):
            return {str(number): item for number, item in enumerate(form.items, 1)}
        if isinstance(form, Items):
            return {str(number): form.item for number in range(1, len(node.items) + 1)}
    return {}


def laid(node: Node, path: Path, value: Node) -> Node:
    """The tree with another value at a path that `form_at` found good."""
    if moves(path):
        section, part, way = path
        assert isinstance(node, Mapping), "no section to move a part of"
        parts = node.entries[section]
        assert isinstance(parts, Mapping), f"no {part} to move"
        form = form_at(path[:-1], node, value.place, Faults())
        value, path = moved(parts.entries[part], form, AXES[way], value), path[:-1]
    return _laid(node, path, value)


def _laid(node: Node, path: Path, value: Node) -> Node:
    if not path:
        return value
    key, rest = path[0], path[1:]
    if isinstance(node, Mapping):
        empty = Mapping({}, {}, value.place)  # a record the layout leaves to usual values
        inner = _laid(node.entries.get(key, empty), rest, value) if rest else value
        where = node.keys.get(key, value.place)
        return Mapping({**node.entries, key: inner}, {**node.keys, key: where}, node.place)
    assert isinstance(node, Sequence), f"nothing to lay {key} into"
    number = int(key) - 1
    items = list(node.items)
    items[number] = _laid(items[number], rest, value)
    return Sequence(tuple(items), node.place)
