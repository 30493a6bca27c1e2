"""JSON Schema of the layout file, for editors, made from the model's declarations.

A schema cannot know all that the reader does (names that point at nothing, impossible
geometry), but every layout of format 2 that the reader accepts is valid by it. Its patterns are
ECMA-262 regular expressions, as JSON Schema asks, and are the same with and without its flags `u`
and `v`.
"""

import re
from collections.abc import Mapping
from typing import Any

from plumbing import units
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
from plumbing.layout.graded.keys import (
    ALL_AT_ONCE,
    CHAINS,
    ENTRIES,
    FLOOR,
    GROUP,
    HEIGHT,
    MAY_MISS,
    SIDES,
)
from plumbing.layout.reader import DOTTED
from plumbing.layout.statements import DONE, EXAMPLES, KEYS, MEASURED
from plumbing.layout.values import LONGEST_NAME, LONGEST_TEXT
from plumbing.model.base import Written
from plumbing.model.engine import Engine
from plumbing.model.fields import Quantity
from plumbing.model.layout import Layout
from plumbing.model.tank import Tank

DIALECT = "https://json-schema.org/draft/2020-12/schema"
_NUMBER = r"^\s*[\-+]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][\-+]?[0-9]{1,3})?\s*"
_OTHER_UNIT = r"[A-Za-zµ°][A-Za-zµ°0-9*\/\^ \-]*"
_SIGNS = "!#$%&()*+,./:;<=>?@[]^{|}~"  # signs that are in no name
_SYNTAX = re.compile(r"[\^$\\.*+?()\[\]{}|/]")  # all that ECMA-262 allows to escape everywhere

Schema = dict[str, Any]
_ENTRIES = tuple(
    field.form.item.cls
    for field in fields_of(Layout).values()
    if isinstance(field.form, Section) and isinstance(field.form.item, Record)
)


def schema() -> Schema:
    """JSON Schema (2020-12) of a layout file."""
    defined: dict[str, Schema] = {}
    root = _record(Layout, defined)
    root["properties"] |= _all_at_once()
    return {
        "$schema": DIALECT,
        "title": "Fuel system layout",
        "description": "Layout file of a fuel system, format 2",
        **root,
        "$defs": dict(sorted(defined.items())),
    }


def _record(cls: type[Written], defined: dict[str, Schema]) -> Schema:
    known = fields_of(cls)
    found: Schema = {
        "type": "object",
        "description": (cls.__doc__ or "").strip().split("\n\n")[0],
        "properties": {key: _field(field, defined) for key, field in known.items()},
        "additionalProperties": False,
    }
    twice = [(key, field.also) for key, field in known.items() if field.also]
    for key, other in twice:
        found["properties"][other] = {
            **found["properties"][key],
            "description": f"the same as `{key}`",
        }
    if twice:
        found["not"] = {"anyOf": [{"required": list(pair)} for pair in twice]}
    if cls in _ENTRIES:  # groups and defaults may hold any of its keys
        found["properties"] |= _of_entries(cls, known)
        return found
    may_miss = MAY_MISS.get(cls, frozenset())
    required = [key for key, field in known.items() if field.required and key not in may_miss]
    if required:
        found["required"] = required
    return found


def _of_entries(cls: type[Written], known: Mapping[str, Field]) -> Schema:
    """Keys that an entry of a section may have besides those of the model."""
    keys = [GROUP, *([FLOOR] if cls is Tank else [HEIGHT] if "at" in known else [])]
    forms = {key: _number(Number(Quantity("length"))) for key in (HEIGHT, FLOOR)}
    forms[GROUP] = _one_or_more({"type": "string"})
    return {key: {"description": ENTRIES[key], **forms[key]} for key in keys}


def _all_at_once() -> Schema:
    """Keys by which a short file says much in one line."""
    chain = _one_or_more({"type": "string", "pattern": ">"})
    length = _number(Number(Quantity("length")))
    values = {"type": ["object", "null"], "additionalProperties": {"type": "object"}}
    forms = {
        **dict.fromkeys(CHAINS, chain),
        "tube": _by_side({"type": "string"}),
        "length": _by_side(length),
        "defaults": values,
        "groups": values,
    }
    return {key: {"description": words, **forms[key]} for key, words in ALL_AT_ONCE.items()}


def _one_or_more(item: Schema) -> Schema:
    return {"anyOf": [item, {"type": "array", "items": item}]}


def _by_side(item: Schema) -> Schema:
    sides = dict.fromkeys(SIDES, item)
    return {"anyOf": [item, {"type": "object", "properties": sides, "additionalProperties": False}]}


def _field(field: Field, defined: dict[str, Schema]) -> Schema:
    found = dict(_form(field.form, defined))
    words = field.doc
    if isinstance(field.form, Stated):
        words += f"; due when {field.form.due}"
    if field.usual:
        words += f"; usual {field.usual.text} ({field.usual.source})"
    return {"description": words, **found}


def _form(form: Form, defined: dict[str, Schema]) -> Schema:
    match form:
        case Number() | Text() | Flag() | Choice():
            return _single(form)
        case Items():
            return {"type": "array", "items": _form(form.item, defined)}
        case Row():
            rows = [_form(item, defined) for item in form.items]
            count = len(rows)
            return {"type": "array", "prefixItems": rows, "minItems": count, "maxItems": count}
        case Section():
            return _section(form, defined)
        case Tagged():
            return _tagged(form, defined)
        case Record():
            return _named(form.cls, defined)
        case Stated():
            return _stated(defined)


def _single(form: Number | Text | Flag | Choice) -> Schema:
    match form:
        case Number():
            return _number(form)
        case Text():
            return {"type": ["string", "number", "boolean"], "maxLength": LONGEST_TEXT}
        case Flag():
            return {"enum": [True, False, "yes", "no"]}
        case Choice():
            return {"enum": list(form.words)}


def _stated(defined: dict[str, Schema]) -> Schema:
    """Reference to what every statement may say."""
    if "Statement" not in defined:
        text = {"type": "string", "maxLength": LONGEST_TEXT}
        forms = "|".join(re.sub(r"\?P<\w+>", "", form) for form in (DONE, MEASURED))
        words = {
            **text,
            "pattern": rf"^\s*(open|planned|{forms})\s*$".replace(" ", r"\s+"),
            "examples": list(EXAMPLES),
        }
        parts = {key: {**text, "description": doc} for key, doc in KEYS.items()}
        defined["Statement"] = {
            "description": "What somebody must make true, with its evidence",
            "anyOf": [
                words,
                {
                    "type": "object",
                    "properties": {**parts, "is": words},
                    "required": ["is"],
                    "additionalProperties": False,
                },
            ],
        }
    return {"$ref": "#/$defs/Statement"}


def _named(cls: type[Written], defined: dict[str, Schema]) -> Schema:
    """Reference to the definition of a class, made where it is not there yet."""
    if cls.__name__ not in defined:
        defined[cls.__name__] = {}  # a group of phases holds phases
        defined[cls.__name__] = _record(cls, defined)
    return {"$ref": f"#/$defs/{cls.__name__}"}


def _section(form: Section, defined: dict[str, Schema]) -> Schema:
    dotted = isinstance(form.item, Record) and form.item.cls in DOTTED
    refused = _SIGNS.replace(".", "") if dotted else _SIGNS
    pattern = f"^[^{_escaped(refused)}]+$"
    return {
        "type": ["object", "null"],
        "propertyNames": {"minLength": 1, "maxLength": LONGEST_NAME, "pattern": pattern},
        "additionalProperties": _entry(form.item, defined),
    }


def _entry(form: Form, defined: dict[str, Schema]) -> Schema:
    """An entry of a section; a tank may be its volume alone, an engine its thrust."""
    found = _form(form, defined)
    if isinstance(form, Record) and form.cls in (Tank, Engine):
        return {"anyOf": [found, {"type": "string"}]}
    if isinstance(form, Record) and form.cls in _ENTRIES:
        return {"anyOf": [found, {"type": "null"}]}
    return found


def _escaped(text: str) -> str:
    """A text as part of an ECMA-262 pattern, which knows fewer escapes than Python."""
    return _SYNTAX.sub(r"\\\g<0>", text)


def _tagged(form: Tagged, defined: dict[str, Schema]) -> Schema:
    return {
        "type": "object",
        "properties": {kind: _named(cls, defined) for kind, cls in form.kinds.items()},
        "additionalProperties": False,
        "minProperties": 1,
        "maxProperties": 1,
    }


def _number(form: Number) -> Schema:
    kind = units.KINDS[form.quantity.kind]
    if "" in kind.units:
        found: Schema = {"type": "integer" if form.whole else "number"}
        for word, bound in (("minimum", form.quantity.low), ("maximum", form.quantity.high)):
            if bound is not None:
                found[word] = bound
        return found
    spellings = "|".join(_escaped(unit) for unit in kind.units)
    own = f"({spellings})" if not kind.si else f"({spellings}|{_OTHER_UNIT})"
    return {"type": "string", "pattern": f"{_NUMBER}{own}\\s*$", "examples": [kind.example]}
