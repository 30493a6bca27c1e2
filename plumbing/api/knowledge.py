"""What the program knows: checks, and the schemas of files and results."""

from __future__ import annotations

import importlib
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


def schema(of: SchemaOf = "layout") -> dict[str, Any]:
    """JSON Schema of the layout file, for editors, or of a result, for programs.

    Parameters
    ----------
    of : str
        `layout`; or `check`, `flight`, `fill`, `park`, `faults`, `tilt`, `spread`, `asbuilt`: the
        JSON that the command prints (`flight` is that of `plumbing fly`).

    Raises
    ------
    UsageError
        There is no such schema.
    """
    if of not in SCHEMAS:
        raise UsageError(f"there is no schema of `{of}`; there are: {', '.join(SCHEMAS)}")
    if of == "layout":
        from plumbing.drawing.sheet import MARK
        from plumbing.layout import schema as made

        return {"$comment": MARK, **made()}
    module, name = SCHEMAS[of].split(":")
    found: dict[str, Any] = getattr(importlib.import_module(module), name)()
    return found


SchemaOf = Literal[
    "layout", "check", "flight", "fill", "park", "faults", "tilt", "spread", "asbuilt"
]
SCHEMAS = {
    "layout": "",
    "check": "plumbing.report.json_schema:check_schema",
    "flight": "plumbing.report.json_schema:flight_schema",
    "fill": "plumbing.report.ground_schema:fill_schema",
    "park": "plumbing.report.ground_schema:park_schema",
    "faults": "plumbing.report.ground_schema:faults_schema",
    "tilt": "plumbing.report.sweep_schema:tilt_schema",
    "spread": "plumbing.report.sweep_schema:spread_schema",
    "compare": "plumbing.report.json_schema:compare_schema",
    "asbuilt": "plumbing.report.sweep_schema:asbuilt_schema",
}
