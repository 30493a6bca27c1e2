"""Single values: words, numbers with units, yes and no, one of a few words, names."""

import re
import unicodedata
from typing import Final

from plumbing import quantities, units
from plumbing.errors import nearest
from plumbing.layout.forms import Choice, Flag, Number, Text
from plumbing.layout.gathering import Faults, listed, quoted
from plumbing.layout.slips import slip_in
from plumbing.layout.tree import Node, Scalar, Sequence
from plumbing.model.fields import Quantity
from plumbing.place import Place

LONGEST_TEXT = 500
LONGEST_NAME = 40
NAME_RULE = "1 to 40 letters, digits, spaces, `-` and `_`"

_YES = {"yes": True, "true": True, "no": False, "false": False}
_NOTHING = ("", "null", "~")
_BARE = re.compile(r"[-+]?[\d.]+([eE][-+]?\d+)?")


class Broken:
    """Stands for a value that could not be read; its fault is noted already."""


BROKEN: Final = Broken()


def is_nothing(node: Node) -> bool:
    """Whether nothing is written after the key."""
    return isinstance(node, Scalar) and not node.quoted and node.text in _NOTHING


def is_bare_number(node: Node) -> bool:
    """Whether a number stands there without a unit."""
    return isinstance(node, Scalar) and _BARE.fullmatch(node.text) is not None


def described(node: Node) -> str:
    """What stands there, for messages."""
    if is_nothing(node):
        return "nothing"
    if isinstance(node, Scalar):
        return quoted(node.text)
    return "a list" if isinstance(node, Sequence) else "a mapping"


def text(_form: Text, node: Node, faults: Faults) -> str | Broken:
    """Words in one line."""
    if not isinstance(node, Scalar) or is_nothing(node) or not node.text.strip():
        return _wrong(node, "a text", faults)
    words = " ".join(node.text.split())
    if len(words) > LONGEST_TEXT:
        faults.add(
            node.place,
            f"a text of {len(words)} characters",
            f"at most {LONGEST_TEXT} characters",
        )
        return BROKEN
    return words


def number(form: Number, node: Node, faults: Faults) -> float | int | Broken:
    """A number with its unit, in SI."""
    quantity = form.quantity
    if not isinstance(node, Scalar) or is_nothing(node):
        return _wrong(node, wanted(quantity), faults)
    slip = slip_in(node.text.strip(), quantity.kind)
    if slip is not None:
        faults.add(node.place, f"{quoted(node.text)} with {slip[0]}", slip[1])
        return BROKEN
    try:
        value = quantities.parse(node.text.strip(), quantity.kind)
    except quantities.UnitError as error:
        found, _, expected = str(error).partition("; expected ")
        faults.add(node.place, found, expected)
        return BROKEN
    if form.whole and value != round(value):
        faults.add(node.place, quoted(node.text), "a whole number")
        return BROKEN
    if not _within(value, quantity):
        faults.add(node.place, f"{quoted(node.text)}, out of bounds", bounds(quantity))
        return BROKEN
    return round(value) if form.whole else value


def flag(_form: Flag, node: Node, faults: Faults) -> bool | Broken:
    """Yes or no."""
    word = node.text.strip().lower() if isinstance(node, Scalar) else ""
    if word not in _YES:
        return _wrong(node, "`yes` or `no`", faults)
    return _YES[word]


def choice(form: Choice, node: Node, faults: Faults) -> str | Broken:
    """One of a few words."""
    if not isinstance(node, Scalar) or is_nothing(node):
        return _wrong(node, listed(form.words), faults)
    word = node.text.strip()
    if word in form.words:
        return word
    close = nearest(word[:LONGEST_NAME].lower(), form.words)
    others = f" ({listed(form.words)})" if len(form.words) > 1 else ""
    faults.add(node.place, quoted(word), f"`{close}`{others}" if close else listed(form.words))
    return BROKEN


def name(word: str, place: Place, dotted: bool, faults: Faults) -> bool:
    """Whether a word may name a part; a fault is noted where it may not.

    Parameters
    ----------
    word : str
        The name as written.
    place : Place
        Where it stands.
    dotted : bool
        Whether a `.` may be in it, as in a tube's size; parts and ports may not, because a
        `.` stands between a part and its port.
    faults : Faults
        Receives the fault.
    """
    signs = " -_." if dotted else " -_"
    fits = (
        0 < len(word) <= LONGEST_NAME
        and word == word.strip()
        and all(c.isalnum() or c in signs or unicodedata.category(c) == "Mn" for c in word)
    )
    if not fits:
        faults.add(place, f"the name {quoted(word)}", NAME_RULE)
    return fits


def wanted(quantity: Quantity) -> str:
    """What is expected of a quantity, with an example of the right form."""
    kind = units.KINDS[quantity.kind]
    return f"{kind.name} such as `{kind.example}`"


def bounds(quantity: Quantity) -> str:
    """Bounds of a quantity in words."""
    kind = units.KINDS[quantity.kind].name
    low, high = (
        None if bound is None else units.show(bound, quantity.kind)
        for bound in (quantity.low, quantity.high)
    )
    if low == high:
        return f"{kind} of {low}"
    bounded = f"{kind} of at most {high}" if low is None else f"{kind} of at least {low}"
    if low is not None and high is not None:
        bounded = f"{kind} from {low} to {high}"
    example = quantities.parse(units.KINDS[quantity.kind].example, quantity.kind)
    return (
        f"{bounded}, such as `{units.KINDS[quantity.kind].example}`"
        if _within(example, quantity)
        else bounded
    )


def _within(value: float, quantity: Quantity) -> bool:
    low, high = quantity.low, quantity.high
    return (low is None or value >= low) and (high is None or value <= high)


def _wrong(node: Node, expected: str, faults: Faults) -> Broken:
    faults.add(node.place, described(node), expected)
    return BROKEN
