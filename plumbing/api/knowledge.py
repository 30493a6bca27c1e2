"""What the program knows: checks, starters, the layout file's schema."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal

from plumbing.errors import UsageError
from plumbing.units import nearest

if TYPE_CHECKING:
    from plumbing.checks.kit import Check


def explain(name: str) -> Check:
    """Look a check up by name.

    Raises
    ------
    UsageError
        There is no such check; the message names the nearest.
    """
    from plumbing.checks.registry import checks

    known = {check.name: check for check in checks()}
    if name not in known:
        close = nearest(name, known)
        hint = f"did you mean `{close}`?" if close else "`plumbing explain` lists them."
        raise UsageError(f"there is no check `{name}`; {hint}")
    return known[name]


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


def schema(of: Literal["layout", "check", "flight"] = "layout") -> dict[str, Any]:
    """JSON Schema of the layout file, for editors, or of a result, for programs.

    Parameters
    ----------
    of : {"layout", "check", "flight"}
        The layout file, or the JSON that `plumbing check` or `plumbing fly` prints.

    Raises
    ------
    UsageError
        There is no such schema.
    """
    if of == "layout":
        from plumbing.layout import schema as made

        return made()
    from plumbing.report import json_schema

    makers = {"check": json_schema.check_schema, "flight": json_schema.flight_schema}
    if of not in makers:
        raise UsageError(f"there is no schema of `{of}`; there are: layout, check, flight")
    return makers[of]()
