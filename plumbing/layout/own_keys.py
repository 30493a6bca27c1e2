"""Keys that builders write for another: `length` on a line for its `cut-length`."""

from plumbing.layout.forms import fields_of
from plumbing.layout.gathering import Faults
from plumbing.layout.tree import Mapping
from plumbing.model.base import Written


def under_own_keys(cls: type[Written], node: Mapping, faults: Faults) -> Mapping:
    """Mapping with every value under the key of its field.

    Parameters
    ----------
    cls : type
        What the mapping is read into.
    node : Mapping
        As written.
    faults : Faults
        Receives a value that is written under both keys.
    """
    own = {field.also: key for key, field in fields_of(cls).items() if field.also}
    for also, key in own.items():
        if also in node.entries and key in node.entries:
            found = f"`{also}` beside `{key}`, which is the same value"
            faults.add(node.keys[also], found, f"only `{key}`")
    return Mapping(
        {own.get(key, key): value for key, value in node.entries.items()},
        {own.get(key, key): place for key, place in node.keys.items()},
        node.place,
    )
