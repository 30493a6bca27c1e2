"""New layout files."""

from __future__ import annotations

import json
import os
from pathlib import Path

from plumbing.api.door import AnyPath, Door
from plumbing.api.knowledge import schema
from plumbing.errors import UsageError


def starter(name: str) -> str:
    """Text of a commented layout file to start from.

    Raises
    ------
    UsageError
        There is no such starter.
    """
    from plumbing.layout import STARTERS
    from plumbing.layout import starter as text_of

    if name not in STARTERS:
        raise UsageError(f"there is no starter `{name}`; there are: {', '.join(STARTERS)}")
    return text_of(name)


def start(path: AnyPath, text: str, force: bool = False) -> tuple[str, ...]:
    """Write a new layout and, beside it, the schema that its first line hooks to editors.

    Parameters
    ----------
    path : path
        The layout to write; what is no file, such as a pipe, gets no schema.
    text : str
        What to write, such as that of a starter.
    force : bool
        Whether files of somebody else may be replaced.

    Returns
    -------
    tuple of str
        Paths of the files written.

    Raises
    ------
    UsageError
        A file is there that may not be replaced, or one cannot be written.
    """
    from plumbing.layout.starting import SCHEMA_FILE

    target = Path(path)
    contents: dict[AnyPath, bytes] = {path: text.encode()}
    if target.is_file() or not target.exists():
        contents[target.with_name(SCHEMA_FILE)] = schema_text().encode()
    Door(force=force).write(contents)
    return tuple(os.fspath(one) for one in contents)


def schema_text() -> str:
    """Schema of the layout file as JSON text."""
    return json.dumps(schema(), indent=2, ensure_ascii=False) + "\n"
