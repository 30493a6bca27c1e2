"""Results as plain data, as their schema says.

The keys are a promise to other programs, so the schemas write them down. What stands under a key
is the attribute of the result that has its name without the unit, or the one in `NAMES`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from enum import Enum
from operator import attrgetter
from typing import Any

from plumbing import units
from plumbing.findings import Figure
from plumbing.report.schema_parts import Schema
from plumbing.results import NotComputed

NAMES = {  # key without its unit: where it stands, if not under that name
    "assumed": "profile.assumed",
    "column": "place.column",
    "dry_without_a_fault": "nominal_stops",
    "faults": "outcomes",
    "error_of_p50": "error",
    "file": "place.file",
    "first": "alone",
    "flight": "profile.name",
    "flow_assumed": "assumed",
    "from": "celsius_from",
    "fuel": "celsius",
    "kind": "fault.kind",
    "line": "place.line",
    "not_computed": "unknown",
    "noticed": "fault.noticed",
    "over_engine": "head",
    "p5": "low",
    "p50": "middle",
    "p95": "high",
    "part": "fault.part",
    "pushed_to_engines": "pushed",
    "reason": "why.reason",
    "safe_flow": "safe",
    "sobol": "shares",
    "to": "celsius_to",
    "total": "whole",
    "unusable": "volume",
    "what": "fault.what",
    "where": "name",
}
_UNIT = re.compile(r"_(m3_s|m_s|m3|m|s|Pa|rad|degC)$")


def keyed(value: Any, schema: Schema, **given: object) -> Any:
    """Give a result as plain data.

    Parameters
    ----------
    value : object
        The result: a dataclass, or a mapping with the very keys of the schema.
    schema : dict
        Its schema.
    given : object
        What stands under keys of its own that the result does not have.

    Returns
    -------
    object
        Text, numbers, lists and dictionaries; figures with their unit beside them, None for what
        was not computed.
    """
    if value is None or isinstance(value, NotComputed):
        return None
    if isinstance(value, Figure):
        unit = units.KINDS[value.kind].si
        return {"value": value.value, "unit": unit, "low": value.low, "high": value.high}
    if isinstance(value, Enum):
        return value.value
    if "anyOf" in schema:
        return keyed(value, schema["anyOf"][0])
    if "properties" in schema:
        parts = schema["properties"]
        return {
            key: given[key] if key in given else _under(key, value, parts[key]) for key in parts
        }
    if "additionalProperties" in schema:
        return {name: keyed(one, schema["additionalProperties"]) for name, one in value.items()}
    if isinstance(value, tuple | list):
        return [keyed(one, schema.get("items", {})) for one in value]
    return value


def _under(key: str, value: Any, schema: Schema) -> Any:
    """What stands under a key of a result."""
    if "const" in schema:
        return schema["const"]
    if isinstance(value, Mapping):
        return keyed(value[key], schema)
    name = _UNIT.sub("", key)
    return keyed(attrgetter(name if hasattr(value, name) else NAMES[name])(value), schema)
