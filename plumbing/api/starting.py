"""New layout files."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from plumbing.api.door import AnyPath, Door
from plumbing.api.knowledge import schema
from plumbing.errors import UsageError

if TYPE_CHECKING:
    from plumbing.layout.shortened import Shortened

Heard = TypeVar("Heard")


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


def shortened(
    name: str, engine: str | None = None, tanks: Sequence[str] = (), tube: str | None = None
) -> Shortened:
    """Short layout file of a topology, for what a builder says.

    Parameters
    ----------
    name : str
        A starter.
    engine : str, optional
        Thrust or flow at full throttle, such as `60 N`.
    tanks : sequence of str
        `NAME=SIZE`: a volume, such as `main=1.5 L`, or inner sizes, such as `main=240x90x70 mm`.
    tube : str, optional
        Tube before the pump and of the vents, such as `polyurethane 6x4`.

    Raises
    ------
    UsageError
        Something cannot be read, or there is no such starter or tank; everything at once.
    """
    from plumbing.layout import answers
    from plumbing.layout.shortened import shortened as written
    from plumbing.layout.shortened import tanks_of

    starter(name)
    wrong: list[str] = []

    def heard(read: Callable[[str], Heard], text: str) -> Heard | None:
        try:
            return read(text)
        except UsageError as refused:
            wrong.append(str(refused))
            return None

    known, sizes = tanks_of(name), {}
    for one in tanks:
        tank, _, size = (part.strip() for part in one.partition("="))
        if tank not in known or not size:
            expected = " or ".join(f"`{other}=1.5 L`" for other in known)
            wrong.append(f"tank `{one}`; expected {expected}")
        elif (found := heard(answers.tank_said, size)) is not None:
            sizes[tank] = found
    said = answers.Answers(
        starter=name,
        engine=None if engine is None else heard(answers.engine_said, engine),
        tanks=sizes,
        tube=None if tube is None else heard(answers.tube_said, tube),
    )
    if wrong:
        raise UsageError("\n".join(wrong))
    return written(said)


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
