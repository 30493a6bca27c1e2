"""What the JSON Schemas of results are made of."""

from __future__ import annotations

from typing import Any

from plumbing import units

DIALECT = "https://json-schema.org/draft/2020-12/schema"

Schema = dict[str, Any]

TEXT: Schema = {"type": "string"}
WORD: Schema = {"type": "string", "minLength": 1}
REAL: Schema = {"type": "number"}
SOME: Schema = {"type": ["number", "null"]}
POSITIVE: Schema = {"type": "number", "minimum": 0}
NATURAL: Schema = {"type": "integer", "minimum": 0}
FLAG: Schema = {"type": "boolean"}
FIGURE: Schema = {"$ref": "#/$defs/figure"}


def whole(title: str, /, **keys: Schema) -> Schema:
    """Schema of a whole result; more keys may be added within a version."""
    return {
        "$schema": DIALECT,
        "title": title,
        "description": "Values in SI, with the unit beside the value or in the name of the key",
        **record(**keys),
        "$defs": {"figure": figure()},
    }


def figure() -> Schema:
    """Schema of a value with its unit and band."""
    known = sorted({kind.si for kind in units.KINDS.values()})
    return record(value=REAL, unit={"enum": known}, low=SOME, high=SOME)


def record(**keys: Schema) -> Schema:
    """Schema of a mapping that has all these keys; more may be added within a version."""
    return {"type": "object", "properties": keys, "required": list(keys)}


def listed(item: Schema) -> Schema:
    """Schema of a list."""
    return {"type": "array", "items": item}


def by_name(item: Schema) -> Schema:
    """Schema of values by the names of parts."""
    return {"type": "object", "additionalProperties": item}


def nullable(schema: Schema) -> Schema:
    """Schema of a value that may be missing."""
    return {"anyOf": [schema, {"type": "null"}]}
