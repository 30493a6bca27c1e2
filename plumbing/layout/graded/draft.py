"""A tree that is being filled in: sections with their entries, each with the place it came from."""

from collections.abc import Iterator

from plumbing.layout import values
from plumbing.layout.forms import Record, Section, fields_of
from plumbing.layout.tree import Mapping, Node, Scalar
from plumbing.model.layout import PART_SECTIONS, Layout
from plumbing.place import Place

PARTS = tuple(one.replace("_", "-") for one in PART_SECTIONS)
SECTIONS = tuple(
    key
    for key, field in fields_of(Layout).items()
    if isinstance(field.form, Section) and isinstance(field.form.item, Record)
)
HEADER_WORDS = ("header", "trap", "hopper")


class Draft:
    """A copy of the tree of a file, to be filled in."""

    def __init__(self, root: Mapping) -> None:
        self.root = copied(root)
        for key in SECTIONS:
            node = self.root.entries.get(key)
            if isinstance(node, Mapping):
                section = copied(node)
                self.root.entries[key] = section
                for name, entry in section.entries.items():
                    if isinstance(entry, Mapping):
                        section.entries[name] = copied(entry)

    def sections(self) -> Iterator[tuple[str, dict[str, Mapping]]]:
        """Every section there is, with those of its entries that are mappings."""
        for key in SECTIONS:
            if key in self.root.entries:
                yield key, self.entries(key)

    def entries(self, section: str) -> dict[str, Mapping]:
        """Entries of a section that are mappings, by name."""
        node = self.root.entries.get(section)
        held = node.entries if isinstance(node, Mapping) else {}
        return {name: one for name, one in held.items() if isinstance(one, Mapping)}

    def taken(self, key: str) -> Node | None:
        """Value of a key that is no part of the model, taken out of the tree."""
        self.root.keys.pop(key, None)
        return self.root.entries.pop(key, None)

    def entry(self, section: str, name: str, place: Place) -> Mapping:
        """Entry of a section, made where there is none."""
        held = self.root.entries.get(section)
        if held is None or values.is_nothing(held):
            held = Mapping({}, {}, place)
            self.root.entries[section] = held
            self.root.keys.setdefault(section, place)
        if not isinstance(held, Mapping):
            return Mapping({}, {}, place)  # its fault is found by the reader
        found = held.entries.get(name)
        if found is None or values.is_nothing(found):
            found = Mapping({}, {}, place)
            held.entries[name] = found
            held.keys.setdefault(name, place)
        return found if isinstance(found, Mapping) else Mapping({}, {}, place)

    def section_of(self, name: str) -> str | None:
        """Section of parts in which a name stands."""
        for key in PARTS:
            node = self.root.entries.get(key)
            if isinstance(node, Mapping) and name in node.entries:
                return key
        return None


def copied(node: Mapping) -> Mapping:
    """A mapping that may be added to without changing the one it came from."""
    return Mapping(dict(node.entries), dict(node.keys), node.place)


def put(entry: Mapping, key: str, value: str | Node, place: Place | None = None) -> None:
    """Add a value that is not there yet."""
    if key not in entry.entries:
        where = place or entry.place
        entry.entries[key] = Scalar(value, False, where) if isinstance(value, str) else value
        entry.keys[key] = where


def text_of(entry: Mapping, key: str) -> str:
    """Text of a single value; empty where there is none."""
    node = entry.entries.get(key)
    return node.text.strip() if isinstance(node, Scalar) else ""


def is_header(name: str, tank: Mapping | None) -> bool:
    """Whether a tank is a header, as it says or by its name."""
    role = text_of(tank, "role") if tank else ""
    return role == "header" or (not role and name.split()[-1].lower() in HEADER_WORDS)
