"""Plain data as JSON text: one form for every command."""

import json
from typing import Any

import numpy as np


def json_text(data: dict[str, Any]) -> str:
    """Write plain data, arrays among it, indented; a value that is no number is an error."""
    text = json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False, default=_plain)
    return "".join(one if one.isprintable() or one == "\n" else _escaped(one) for one in text)


def _escaped(character: str) -> str:
    """A character that a terminal might obey, as JSON has it within a text."""
    return json.dumps(character)[1:-1]


def _plain(value: object) -> object:
    if isinstance(value, np.ndarray | np.generic):
        return value.tolist()
    raise TypeError(f"cannot write {type(value).__name__}")
