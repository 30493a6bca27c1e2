"""Values said once for many entries: defaults of a section, and groups by name."""

from collections.abc import Iterator

from plumbing.errors import Fault, LayoutError
from plumbing.layout import values
from plumbing.layout.gathering import Faults, quoted
from plumbing.layout.graded.draft import Draft
from plumbing.layout.graded.keys import GROUP
from plumbing.layout.tree import MOST_NODES, Mapping, Node, Scalar, Sequence


def spread_out(draft: Draft, faults: Faults) -> None:
    """Give every entry what its groups and the defaults of its section say, where it does not.

    What comes of it is bounded as the file itself is; a group holds no groups.

    Raises
    ------
    LayoutError
        It comes to more values than a file may hold.
    """
    groups, defaults = _named(draft, "groups", faults), _named(draft, "defaults", faults)
    room = MOST_NODES
    for section, entries in draft.sections():
        usual = defaults.pop(section, None)
        for name, entry in entries.items():
            for more in (*_taken(entry, groups, faults), *([usual] if usual else [])):
                for key, value in more.entries.items():
                    if key not in entry.entries:
                        entry.entries[key], entry.keys[key] = value, more.keys[key]
                        room -= _size(value)
            entries[name] = entry
            if room < 0:
                fault = Fault(entry.place, f"more than {MOST_NODES} values", "fewer entries")
                raise LayoutError((*faults.found, fault))
    for section, more in defaults.items():
        known = [name for name, _ in draft.sections()]
        faults.unknown(more.place, "defaults for no section of the file,", section, known)


def _named(draft: Draft, key: str, faults: Faults) -> dict[str, Mapping]:
    """Mappings by name under a key that only this module reads."""
    node = draft.taken(key)
    if node is None or values.is_nothing(node):
        return {}
    if not isinstance(node, Mapping):
        faults.add(node.place, values.described(node), "entries as `name: {key: value}`")
        return {}
    found = {}
    for name, one in node.entries.items():
        if not isinstance(one, Mapping):
            faults.add(one.place, values.described(one), f"{quoted(name)} as `{{key: value}}`")
        elif GROUP in one.entries:
            faults.add(one.keys[GROUP], f"`{GROUP}` in `{key}`", "values only")
        else:
            found[name] = one
    return found


def _taken(entry: Mapping, groups: dict[str, Mapping], faults: Faults) -> Iterator[Mapping]:
    """Groups an entry names, the first of which counts most."""
    node = entry.entries.pop(GROUP, None)
    entry.keys.pop(GROUP, None)
    if node is None:
        return
    for one in node.items if isinstance(node, Sequence) else (node,):
        if not isinstance(one, Scalar):
            faults.add(one.place, values.described(one), "the name of a group, or a list of names")
        elif one.text in groups:
            yield groups[one.text]
        else:
            faults.unknown(one.place, "no group", one.text, groups)


def _size(node: Node) -> int:
    """How many values a node holds."""
    if isinstance(node, Scalar):
        return 1
    inner = node.items if isinstance(node, Sequence) else tuple(node.entries.values())
    return 1 + sum(_size(one) for one in inner)
