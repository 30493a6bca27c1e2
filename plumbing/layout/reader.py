"""Tree to model: one walk over what is written, guided by what the model declares.

Nothing is raised here. A value with a fault is left out and the walk goes on, so that all
faults of a file are found in one reading. Entries come in the order of their names, not in that of
the file, so that nothing that is computed depends on where a part was written.
"""

import re
from types import MappingProxyType
from typing import Any

from plumbing.findings import Assumption
from plumbing.layout import commas, statements, values
from plumbing.layout.forms import (
    Choice,
    Field,
    Flag,
    Form,
    Items,
    Number,
    Record,
    Row,
    Section,
    Stated,
    Tagged,
    Text,
    fields_of,
)
from plumbing.layout.gathering import Faults, listed
from plumbing.layout.own_keys import under_own_keys
from plumbing.layout.tree import Mapping, Node, Scalar, Sequence
from plumbing.layout.values import BROKEN, Broken
from plumbing.model.base import Named, Written
from plumbing.model.flight import Flight
from plumbing.model.layout import Layout
from plumbing.model.line import Tube
from plumbing.model.statement import Statement
from plumbing.place import Place

# Usual values that say how a file is to be read, not what an aircraft is like: not listed.
CONVENTIONS = frozenset(
    {
        "a former",
        "balanced",
        "drawn for flight",
        "drawn open",
        "drawn upright",
        "level",
        "level flight",
        "named so",
        "not drawn",
        "not named",
        "not stated",
        "once",
        "plain name",
        "unaccelerated",
    }
)
GONE = {"bore-tolerance": "`tolerances: {bore: 0.1 mm}`, which holds for every bore"}
DOTTED: frozenset[type[Written]] = frozenset({Tube})  # sizes have a point: `nylon 4x2.5`
ORDERED: frozenset[type[Written]] = frozenset({Flight})  # the first is the one that is flown
_PLACEHOLDERS = {"format": 2, "title": "", "origin": "", "engines": {}, "tanks": {}, "lines": {}}
_TICK = "a yes in a file of format 1"
_DIGITS = re.compile(r"([0-9]{1,9})")
_POINT = "such as `[420 mm, 0 mm, 35 mm]`"
_PAIR = "such as `[12 mm, -30 mm]`"


class Reader:
    """Reads one tree.

    Attributes
    ----------
    faults : Faults
        Where faults are noted.
    assumed : list of Assumption
        Usual values taken for what the file does not say.
    """

    def __init__(self, faults: Faults) -> None:
        self.faults = faults
        self.assumed: list[Assumption] = []
        self.format = 2

    def layout(self, root: Mapping) -> Layout:
        """The whole layout; where it has faults, what could be read of it."""
        stated = root.entries.get("format")
        self.format = 1 if isinstance(stated, Scalar) and stated.text == "1" else 2
        found = self.fields(Layout, root, "", root.place)
        places = {**_places(Layout, root), **_entries(root, "limits")}
        return Layout(**{**_PLACEHOLDERS, **found}, place=root.place, places=places)

    def record(
        self, cls: type[Written], node: Node, path: str, name: str = "", place: Place | None = None
    ) -> Written | Broken:
        """One value of the model from a mapping."""
        if not isinstance(node, Mapping):
            keys = listed(f"{key}:" for key in fields_of(cls))
            self.faults.add(node.place, values.described(node), f"a mapping with {keys}")
            return BROKEN
        start = place or node.place
        node = under_own_keys(cls, node, self.faults)
        found = self.fields(cls, node, path, start)
        if any(field.required and field.name not in found for field in fields_of(cls).values()):
            return BROKEN
        if issubclass(cls, Named):
            found["name"] = name
        return cls(**found, place=start, places=_places(cls, node))

    def fields(self, cls: type[Written], node: Mapping, path: str, place: Place) -> dict[str, Any]:
        """Values of the fields that are written and right, by the model's names."""
        known = fields_of(cls)
        split = commas.split_values(node, known)
        commas.note_values(node, known, self.faults)
        for key, where in node.keys.items():
            if key in GONE and key not in known:
                self.faults.add(where, f"unknown key `{key}`", GONE[key])
            elif key not in known and key not in split:
                self.faults.unknown(where, "unknown key", key, known)
        found = {}
        for key, field in known.items():
            inner = f"{path}.{key}" if path else key
            if key in split:
                continue
            if key in node.entries:
                value = self.value(field.form, node.entries[key], inner)
                if not isinstance(value, Broken):
                    found[field.name] = value
            elif field.required:
                subject = f"`{path}`" if path else "the layout"
                self.faults.add(place, f"{subject} without `{key}`", f"`{key}`: {field.doc}")
            else:
                self.assume(field, inner)
        return found

    def assume(self, field: Field, path: str) -> None:
        """List the usual value of a field that is not written, and those inside it."""
        if field.usual and field.usual.source not in CONVENTIONS:
            self.assumed.append(Assumption(path, field.usual.text, field.usual.source))
        if isinstance(field.form, Record) and isinstance(field.default, Written):
            for key, inner in fields_of(field.form.cls).items():
                self.assume(inner, f"{path}.{key}")

    def value(self, form: Form, node: Node, path: str) -> Any:
        """Value of any form, or BROKEN with its fault noted."""
        if self.faults.full:
            return BROKEN  # no more can be noted, and a heap of faults may be slow to read
        match form:
            case Number() | Text() | Flag() | Choice():
                return self.single(form, node)
            case Row():
                return self.row(form, node, path)
            case Items():
                return self.items(form, node, path)
            case Section():
                return self.section(form, node, path)
            case Tagged():
                return self.tagged(form, node, path)
            case Record():
                return self.record(form.cls, node, path)
            case Stated():
                return self.statement(form, node, path)

    def single(self, form: Number | Text | Flag | Choice, node: Node) -> Any:
        """A single value."""
        match form:
            case Number():
                return values.number(form, node, self.faults)
            case Text():
                return values.text(form, node, self.faults)
            case Flag():
                return values.flag(form, node, self.faults)
            case Choice():
                return values.choice(form, node, self.faults)

    def statement(self, form: Stated, node: Node, path: str) -> Any:
        """A statement with its evidence; format 1 knew only yes and no."""
        old = statements.of_format_1(node) if self.format == 1 else None
        if old is None:
            return statements.statement(form, node, self.faults)
        if old == "done":
            self.assumed.append(Assumption(path, "done, undated", _TICK))
        return Statement(due=form.due, state=old, place=node.place)

    def row(self, form: Row, node: Node, path: str) -> Any:
        """A list of a fixed length."""
        expected = row_form(form)
        if isinstance(node, Sequence) and commas.note_item(node.items, self.faults):
            return BROKEN
        if not isinstance(node, Sequence) or len(node.items) != len(form.items):
            found = values.described(node)
            if isinstance(node, Sequence):
                found = f"a list of {len(node.items)}"
            self.faults.add(node.place, found, expected)
            return BROKEN
        if all(values.is_bare_number(item) for item in node.items):
            self.faults.add(node.place, "numbers without a unit", expected)
            return BROKEN
        pairs = zip(form.items, node.items, strict=True)
        return _whole([self.value(inner, item, path) for inner, item in pairs])

    def items(self, form: Items, node: Node, path: str) -> Any:
        """A list of any length."""
        if not isinstance(node, Sequence):
            example = " such as `[first, second]`" if isinstance(form.item, Text) else ""
            self.faults.add(node.place, values.described(node), f"a list{example}")
            return BROKEN
        found = [
            self.value(form.item, item, f"{path}.{number}")
            for number, item in enumerate(node.items, 1)
        ]
        return _whole(found)

    def section(self, form: Section, node: Node, path: str) -> Any:
        """Entries by name; those with faults are left out."""
        if values.is_nothing(node):
            return {}
        if not isinstance(node, Mapping):
            self.faults.add(node.place, values.described(node), "entries as `name: {...}`")
            return BROKEN
        found = {}
        kind = form.item.cls if isinstance(form.item, Record) else None
        dotted = kind in DOTTED
        for name in node.entries if kind in ORDERED else sorted(node.entries, key=_by_number):
            entry, where = node.entries[name], node.keys[name]
            fits = values.name(name, where, dotted, self.faults)
            inner = f"{path}.{name}"
            if isinstance(form.item, Record):
                value: Any = self.record(form.item.cls, entry, inner, name, where)
            else:
                value = self.value(form.item, entry, inner)
            if fits and not isinstance(value, Broken):
                found[name] = value
        return found

    def tagged(self, form: Tagged, node: Node, path: str) -> Any:
        """A mapping with one key that says which kind follows."""
        expected = f"{listed(form.kinds)}, such as `{next(iter(form.kinds))}: {{...}}`"
        if not isinstance(node, Mapping) or len(node.entries) != 1:
            found = values.described(node)
            if isinstance(node, Mapping):
                found = f"a mapping with {len(node.entries)} keys"
            self.faults.add(node.place, found, expected)
            return BROKEN
        ((kind, inner),) = node.entries.items()
        where = node.keys[kind]
        if kind not in form.kinds:
            self.faults.unknown(where, "unknown kind", kind, form.kinds)
            return BROKEN
        return self.record(form.kinds[kind], inner, f"{path}.{kind}", place=where)


def row_form(form: Row) -> str:
    """What is expected of a list of a fixed length."""
    count = len(form.items)
    inner = form.items[0]
    if isinstance(inner, Number) and inner.quantity.kind == "length":
        return f"{count} lengths, each with its unit, {_POINT if count == 3 else _PAIR}"
    return f"a list of {count}"


def _whole(found: list[Any]) -> Any:
    return BROKEN if any(isinstance(value, Broken) for value in found) else tuple(found)


def _by_number(name: str) -> tuple[list[str | int], str]:
    """Key to sort names by, `tank 2` before `tank 10`."""
    pieces = _DIGITS.split(name)
    return [int(one) if at % 2 else one for at, one in enumerate(pieces)], name


def _places(cls: type[Written], node: Mapping) -> MappingProxyType[str, Place]:
    known = fields_of(cls)
    return MappingProxyType({known[k].name: p for k, p in node.keys.items() if k in known})


def _entries(root: Mapping, key: str) -> dict[str, Place]:
    """Places of the entries of a section whose values keep none, as `section.entry`."""
    section = root.entries.get(key)
    keys = section.keys if isinstance(section, Mapping) else {}
    return {f"{key}.{name}": place for name, place in keys.items()}


__all__ = ["CONVENTIONS", "DOTTED", "Reader", "row_form"]
