"""Text to a tree of plain nodes, each with its place; no Python object is made from the file.

Only the parser's events are used. Everything of YAML that a layout file does not need is
refused: anchors, aliases, tags, merge keys, several documents.
"""

from plumbing.errors import Fault, LayoutError
from plumbing.frozen import frozen
from plumbing.layout import characters
from plumbing.layout.events import Event, events
from plumbing.layout.gathering import Faults, quoted
from plumbing.place import Place

DEEPEST = 20
MOST_NODES = 15_000
SOLE_KEY = "a key once only"


@frozen
class Scalar:
    """A single value as written.

    Attributes
    ----------
    text : str
        Its text, without quotes.
    quoted : bool
        Whether it stood in quotes or in a block of text.
    place : Place
        Where it begins.
    """

    text: str
    quoted: bool
    place: Place


@frozen
class Sequence:
    """A list."""

    items: tuple["Node", ...]
    place: Place


@frozen
class Mapping:
    """Keys and values; `keys` has the place of each key."""

    entries: dict[str, "Node"]
    keys: dict[str, Place]
    place: Place


Node = Scalar | Sequence | Mapping


def grow(text: str, file: str, faults: Faults) -> Node | None:
    """Parse the text of a layout file.

    Parameters
    ----------
    text : str
        The whole file.
    file : str
        Path as the user gave it, for places.
    faults : Faults
        Receives duplicate keys, which do not stop the reading.

    Returns
    -------
    Node or None
        The root, or None where the file holds nothing.

    Raises
    ------
    LayoutError
        The text cannot be parsed, or uses what a layout file may not.
    """
    characters.examine(text, file)
    return _Grower(text, file, faults).document()


class _Grower:
    """One pass over the events of one file."""

    def __init__(self, text: str, file: str, faults: Faults) -> None:
        self.file = file
        self.faults = faults
        self.nodes = 0
        self.events = events(text, file)

    def document(self) -> Node | None:
        root: Node | None = None
        started = False
        for event in self.events:
            if event.kind == "DocumentStart":
                if started:
                    self.stop(event, "a second document", "one document in a layout file")
                started = True
                root = self.node(next(self.events), 0)
        return root

    def place(self, event: Event) -> Place:
        return Place(self.file, event.line, event.column)

    def stop(self, event: Event, found: str, expected: str) -> None:
        fault = Fault(self.place(event), found, expected)
        raise LayoutError((*self.faults.found, fault))

    def node(self, event: Event, depth: int) -> Node:
        self.nodes += 1
        self.refuse(event, depth)
        if event.kind == "MappingStart":
            return self.mapping(event, depth)
        if event.kind == "SequenceStart":
            start, items = self.place(event), []
            for inner in self.events:
                if inner.kind == "SequenceEnd":
                    break
                items.append(self.node(inner, depth + 1))
            return Sequence(tuple(items), start)
        if event.kind == "Scalar":
            return self.scalar(event)
        raise AssertionError(f"event {event!r} cannot begin a node")

    def scalar(self, event: Event) -> Scalar:
        hidden = characters.refused_in(event.text)
        if hidden is not None:
            self.stop(event, f"{hidden} inside a text", "letters, digits and signs that print")
        return Scalar(event.text, event.quoted, self.place(event))

    def mapping(self, event: Event, depth: int) -> Mapping:
        entries: dict[str, Node] = {}
        keys: dict[str, Place] = {}
        for inner in self.events:
            if inner.kind == "MappingEnd":
                break
            key = self.key(inner)
            value = self.node(next(self.events), depth + 1)
            place = self.place(inner)
            if key in entries:
                found = f"{quoted(key)} a second time; it stands in line {keys[key].line} already"
                self.faults.add(place, found, SOLE_KEY)
            else:
                entries[key], keys[key] = value, place
        return Mapping(entries, keys, self.place(event))

    def key(self, event: Event) -> str:
        if event.kind != "Scalar":
            self.refuse(event, 0)
            self.stop(event, "a list or mapping as a key", "a word or a name before the `:`")
            raise AssertionError
        self.refuse(event, 0)
        if event.text == "<<" and not event.quoted:
            self.stop(event, "a merge key `<<`", "every part written out in full")
        return self.scalar(event).text

    def refuse(self, event: Event, depth: int) -> None:
        """Stop at what a layout file may not hold."""
        if event.kind == "Alias":
            self.stop(event, f"an alias {quoted(f'*{event.anchor}')}", _QUOTE_STAR)
        if event.anchor is not None:
            self.stop(
                event, f"an anchor {quoted(f'&{event.anchor}')}", "every part written out in full"
            )
        if event.tag is not None:
            self.stop(event, f"a tag {quoted(event.tag)}", _QUOTE_TAG)
        if depth > DEEPEST:
            self.stop(event, f"more than {DEEPEST} levels", "a layout a few levels deep")
        if self.nodes > MOST_NODES:
            self.stop(event, f"more than {MOST_NODES} values", "a layout of a few hundred lines")


_QUOTE_STAR = "every part written out in full; quote a text that begins with `*`"
_QUOTE_TAG = "a plain value; quote a text that begins with `!`"

__all__ = ["Mapping", "Node", "Scalar", "Sequence", "grow"]
