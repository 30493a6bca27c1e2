"""Decimal commas: YAML takes `17,5 kg` in braces and brackets apart, and this puts it together."""

import re
from collections.abc import Iterable, Iterator
from itertools import pairwise

from plumbing.layout.gathering import Faults, quoted
from plumbing.layout.tree import Mapping, Node, Scalar
from plumbing.place import Place

_BEFORE = re.compile(r".*\d")
_AFTER = re.compile(r"\d+(?![\d.])(?: ?[^\d\s].*)?")


def split_values(node: Mapping, known: Iterable[str]) -> frozenset[str]:
    """Keys of a mapping that are the two halves of values with a decimal comma.

    Parameters
    ----------
    node : Mapping
        As written, such as `{dry-mass: 17, 5 kg: }` for `{dry-mass: 17,5 kg}`.
    known : iterable of str
        Keys the mapping may have.
    """
    return frozenset(key for pair in _pairs(node, frozenset(known)) for key in pair)


def note_values(node: Mapping, known: Iterable[str], faults: Faults) -> None:
    """Note a fault for every value with a decimal comma."""
    for key, rest in _pairs(node, frozenset(known)):
        value = node.entries[key]
        assert isinstance(value, Scalar)
        _note(value, rest, faults)


def note_item(items: Iterable[Node], faults: Faults) -> bool:
    """Note the first item of a list with a decimal comma; whether there is one."""
    for first, rest in pairwise(items):
        if (
            isinstance(first, Scalar)
            and isinstance(rest, Scalar)
            and re.fullmatch(r"[-+]?\d+", first.text)
            and re.fullmatch(r"\d+ ?[^\d\s.].*", rest.text)
            and _joined(first.place, first.text, rest.place)
        ):
            _note(first, rest.text, faults)
            return True
    return False


def _pairs(node: Mapping, known: frozenset[str]) -> Iterator[tuple[str, str]]:
    for key, rest in pairwise(node.entries):
        value, after = node.entries[key], node.entries[rest]
        if (
            rest not in known
            and isinstance(value, Scalar)
            and not value.quoted
            and _BEFORE.fullmatch(value.text)
            and _AFTER.fullmatch(rest)
            and isinstance(after, Scalar)
            and not after.text
            and _joined(value.place, value.text, node.keys[rest])
        ):
            yield key, rest


def _joined(place: Place, text: str, after: Place) -> bool:
    """Whether nothing but a comma stands between a text and what follows."""
    return place.line == after.line and place.column + len(text) + 1 == after.column


def _note(first: Scalar, rest: str, faults: Faults) -> None:
    found = f"{quoted(f'{first.text},{rest}')} with a decimal comma"
    faults.add(first.place, found, f"a decimal point: {quoted(f'{first.text}.{rest}')}")
