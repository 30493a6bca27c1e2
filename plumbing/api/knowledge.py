"""What the program knows: checks, lists of what can be named, schemas."""

from __future__ import annotations

import importlib
import re
from typing import TYPE_CHECKING, Any, Literal

from plumbing.errors import UsageError, nearest
from plumbing.frozen import frozen

if TYPE_CHECKING:
    from plumbing.checks.kit import Check
    from plumbing.layout.known import Entry


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


@frozen
class Answer:
    """What is known of a word.

    Attributes
    ----------
    named : tuple of (str, Entry)
        What has that very name, each with the list it stands in.
    checks : tuple of Check
        Checks whose name or title has the word.
    alike : mapping of str to tuple of Entry
        What else has the word in its name or in what is said of it, by list.
    """

    named: tuple[tuple[str, Entry], ...]
    checks: tuple[Check, ...]
    alike: dict[str, tuple[Entry, ...]]


def look_up(words: str) -> Answer:
    """Look for a word among checks, tubes, materials, fittings, kinds, keys and usual values.

    Raises
    ------
    UsageError
        Nothing has it; the message has the nearest name.
    """
    from plumbing.checks.registry import checks
    from plumbing.layout.known import known

    plain = " ".join(words.split()).casefold()
    begins = re.compile(rf"(?<![^\W_]){re.escape(plain)}")
    named = tuple(
        (name, one) for name, entries in known().items() for one in entries if _is(one, plain)
    )
    found = {
        name: tuple(
            one
            for one in entries
            if begins.search(f"{one.name} {one.words}".casefold()) and not _is(one, plain)
        )
        for name, entries in known().items()
    }
    among = tuple(one for one in checks() if begins.search(f"{one.name} {one.title}".casefold()))
    alike = {name: entries for name, entries in found.items() if entries}
    if not plain or not (named or among or alike):
        close = nearest(plain, names())
        hint = f"did you mean `{close}`?" if close else "`plumbing explain` lists what there is."
        raise UsageError(f"nothing is known of `{words}`; {hint}")
    return Answer(named, among, alike)


def _is(entry: Entry, plain: str) -> bool:
    return entry.name.casefold() == plain


def names() -> tuple[str, ...]:
    """Every name that can be looked up: lists, checks, tubes, materials and the rest."""
    from plumbing.checks.registry import checks
    from plumbing.layout.known import known

    own = (one.name for name, entries in known().items() if name != "keys" for one in entries)
    return tuple(dict.fromkeys([*known(), *(check.name for check in checks()), *own]))


def schema(of: SchemaOf = "layout") -> dict[str, Any]:
    """JSON Schema of the layout file, for editors, or of a result, for programs.

    Parameters
    ----------
    of : str
        `layout`; or `check`, `flight`, `fill`, `park`, `faults`, `tilt`, `spread`, `asbuilt`,
        `logbook`: the JSON that the command prints (`flight` is that of `plumbing fly`).

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
    "layout", "check", "flight", "fill", "park", "faults", "tilt", "spread", "asbuilt", "logbook"
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
    "logbook": "plumbing.report.logbook_json:logbook_schema",
}
