"""Plain data as JSON text: one form for every command."""

import json
from typing import Any

import numpy as np


def json_text(data: dict[str, Any]) -> str:
    """Write plain data, arrays among it, indented; a value that is no number is an error."""
    return json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False, default=_plain)


def _plain(value: object) -> object:
    if isinstance(value, np.ndarray | np.generic):
        return value.tolist()
    raise TypeError(f"cannot write {type(value).__name__}")
