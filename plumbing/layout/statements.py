"""Statements as they stand in the file: in a few words, or with a note and a photo beside them.

`open`, `planned`, `done 2026-05-01 by builder`, `measured 21 kPa on 2026-05-01 by builder with
water manometer`; or `{is: done 2026-05-01 by builder, note: second try, photo: lid.jpg}`.
"""

import re
from collections.abc import Iterable
from datetime import date

from plumbing import quantities, units
from plumbing.layout import values
from plumbing.layout.forms import Stated, Text
from plumbing.layout.gathering import Faults, listed, quoted
from plumbing.layout.tree import Mapping, Node, Scalar
from plumbing.layout.values import BROKEN, Broken
from plumbing.model.statement import State, Statement

KEYS = {
    "is": "open, planned, done or measured, in the words above",
    "note": "anything worth saying",
    "photo": "name of an image file beside the layout",
}
EXAMPLES = (
    "open",
    "planned",
    "done 2026-05-01 by builder",
    "measured 21 kPa on 2026-05-01 by builder with water manometer",
)
DATE = r"[0-9]{4}-[0-9]{2}-[0-9]{2}"
DONE = rf"done( (?P<on>{DATE}) by (?P<by>.+))?"
MEASURED = (
    rf"measured (?P<value>[\-+0-9.].*?) on (?P<on>{DATE}) by (?P<by>.+?) with (?P<instrument>.+)"
)
_FORMAT_1: dict[str, State] = {"yes": "done", "true": "done", "no": "open", "false": "open"}
_FORMS: tuple[tuple[State, str], ...] = (
    ("open", "open"),
    ("planned", "planned"),
    ("done", DONE),
    ("measured", MEASURED),
)


def of_format_1(node: Node) -> State | None:
    """What a yes or a no of format 1 says; None where something else stands there."""
    return _FORMAT_1.get(node.text.strip().lower()) if isinstance(node, Scalar) else None


def statement(form: Stated, node: Node, faults: Faults) -> Statement | Broken:
    """A statement with its evidence.

    Parameters
    ----------
    form : Stated
        Says at which stage it is due.
    node : Node
        As written.
    faults : Faults
        Receives what is wrong.
    """
    if not isinstance(node, Mapping):
        return _said(form, node, {}, faults)
    for key, where in node.keys.items():
        if key not in KEYS:
            faults.unknown(where, "unknown key", key, KEYS)
    if "is" not in node.entries:
        faults.add(node.place, "a statement without `is`", f"`is: {EXAMPLES[2]}`")
        return BROKEN
    read = {key: values.text(Text(), node.entries[key], faults) for key in _beside(node.entries)}
    more = {key: words for key, words in read.items() if not isinstance(words, Broken)}
    return _said(form, node.entries["is"], more, faults)


def _beside(keys: Iterable[str]) -> list[str]:
    return [key for key in keys if key in KEYS and key != "is"]


def _said(form: Stated, node: Node, more: dict[str, str], faults: Faults) -> Statement | Broken:
    words = " ".join(node.text.split()) if isinstance(node, Scalar) else ""
    for state, pattern in _FORMS:
        found = re.fullmatch(pattern, words)
        if found is None or len(words) > values.LONGEST_TEXT:
            continue
        said = {key: text or "" for key, text in found.groupdict().items()}
        wrong = _wrong(said)
        if wrong:
            faults.add(node.place, f"{quoted(words)} with {wrong[0]}", wrong[1])
            return BROKEN
        return Statement(
            due=form.due,
            state=state,
            value=said.get("value", ""),
            on=said.get("on", ""),
            by=said.get("by", ""),
            instrument=said.get("instrument", ""),
            note=more.get("note", ""),
            photo=more.get("photo", ""),
            place=node.place,
        )
    return _strange(node, faults)


def _wrong(said: dict[str, str]) -> tuple[str, str] | None:
    """A date that is in no calendar, or a value that is none."""
    try:
        date.fromisoformat(said.get("on") or "2000-01-01")
    except ValueError:
        return f"the date {said['on']}", "a date as 2026-05-01"
    if "value" in said and not _is_quantity(said["value"]):
        return f"the value {quoted(said['value'])}", "a number with its unit, such as `21 kPa`"
    return None


def _is_quantity(text: str) -> bool:
    """Whether a text is a number with a unit of any kind; a bare number is none."""
    if not text[-1:].isalpha() and not text.endswith("%"):
        return False
    for kind in units.KINDS:
        try:
            quantities.parse(text, kind)
        except quantities.UnitError:
            continue
        return True
    return False


def _strange(node: Node, faults: Faults) -> Broken:
    expected = listed(EXAMPLES)
    old = of_format_1(node)
    if old:
        expected += "; `plumbing upgrade` rewrites a file of format 1, where it was yes or no"
    faults.add(node.place, values.described(node), expected)
    return BROKEN


__all__ = ["EXAMPLES", "KEYS", "of_format_1", "statement"]
