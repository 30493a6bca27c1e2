"""Lines from chains: `feed: main > header > screen > pump > engine`, and the parts they name."""

import re
from collections.abc import Iterator

from plumbing import quantities
from plumbing.errors import nearest
from plumbing.frozen import frozen
from plumbing.layout import tube_names, values
from plumbing.layout.catalogue import catalogue
from plumbing.layout.gathering import Faults, quoted
from plumbing.layout.graded.draft import PARTS, Draft, is_header, put, text_of
from plumbing.layout.graded.keys import CHAINS
from plumbing.layout.tree import Mapping, Node, Scalar, Sequence
from plumbing.layout.values import LONGEST_NAME
from plumbing.model.layout import PORT_NAMES
from plumbing.model.parts import Tee
from plumbing.place import Place

_KINDS = {  # section by the last word of a name
    **dict.fromkeys(("pump",), "pumps"),
    **dict.fromkeys(("tee", "wye", "junction"), "tees"),
    **dict.fromkeys(("filter", "screen", "strainer"), "filters"),
    **dict.fromkeys(("valve", "shut-off", "shutoff", "tap"), "valves"),
    **dict.fromkeys(("vent", "overflow", "outlet"), "outlets"),
    **dict.fromkeys(("fill", "filler"), "fill-ports"),
    **dict.fromkeys(("drain",), "drains"),
    **dict.fromkeys(("connector", "coupling", "plug"), "connectors"),
    **dict.fromkeys(("engine", "turbine"), "engines"),
    **dict.fromkeys(("header", "tank", "main", "trap", "hopper"), "tanks"),
}
_THROUGH = {"filters", "pumps", "valves", "connectors"}
_SINGLE = {"outlets": "tube", "fill-ports": "tube", "drains": "tube", "engines": "feed"}
_NUMBER = re.compile(r"\d")


@frozen
class _Item:
    """A part in a chain, with the port that is said, and what was said of the line to it."""

    part: str
    port: str
    length: str
    tube: str


def lines_from_chains(draft: Draft, faults: Faults) -> set[tuple[str, str]]:
    """Make the lines that the chains of a file name, and parts they name that are nowhere else.

    Returns
    -------
    set of (str, str)
        Parts and ports that they join.
    """
    builder = _Builder(draft, faults)
    for kind in CHAINS:
        node = draft.taken(kind)
        for text in _texts(node, kind, faults) if node is not None else ():
            builder.chain(kind, text)
    return builder.join()


def _texts(node: Node, kind: str, faults: Faults) -> Iterator[Scalar]:
    for one in node.items if isinstance(node, Sequence) else (node,):
        if isinstance(one, Scalar) and ">" in one.text:
            yield one
        else:
            faults.add(one.place, values.described(one), f"`{kind}: main > header > ...`")


class _Builder:
    """Makes lines, and gives out the ports of the parts they join."""

    def __init__(self, draft: Draft, faults: Faults) -> None:
        self.draft, self.faults = draft, faults
        self.links: list[tuple[str, Place, _Item, _Item, bool, bool]] = []
        self.taken: set[tuple[str, str]] = set()
        for line in draft.entries("lines").values():
            for end in ("from", "to"):
                part, _, port = text_of(line, end).partition(".")
                self.taken.add((part, port))

    def chain(self, kind: str, node: Scalar) -> None:
        """Read one chain; what is no part is told, and left out of the lines."""
        items = [item for item in self.items(node) if self.known(item.part, node.place)]
        for number, item in enumerate(items):
            if item.port and 0 < number < len(items) - 1:
                found = f"the port {quoted(f'{item.part}.{item.port}')} inside a chain"
                self.faults.add(node.place, found, "a port at the first or last name of a chain")
                return
        last = len(items) - 1
        for number in range(last):
            a, b = items[number], items[number + 1]
            self.links.append((kind, node.place, a, b, number > 0, number + 1 < last))

    def items(self, node: Scalar) -> Iterator[_Item]:
        """Parts of a chain."""
        length = tube = ""
        for word in (" ".join(piece.split()) for piece in node.text.split(">")):
            if self.is_length(word):
                length = word
            elif name := self.tube(word):
                tube = name
            else:
                part, _, port = word.partition(".")
                yield _Item(part, port, length, tube)
                length = tube = ""

    def is_length(self, word: str) -> bool:
        """Whether a word is a length."""
        if not _NUMBER.match(word):
            return False
        try:
            quantities.parse(word, "length")
        except quantities.UnitError:
            return False
        return True

    def tube(self, word: str) -> str:
        """Name of the tube that a word says; empty where it says none."""
        names = [*catalogue(), *self.draft.entries("tubes")]
        if word in names:
            return word
        meant = tube_names.meant(word, names) if _NUMBER.search(word) else []
        return meant[0] if len(meant) == 1 else ""

    def known(self, name: str, place: Place) -> bool:
        """Whether a name is that of a part, which is made where its name says what it is."""
        if self.draft.section_of(name):
            return True
        section = _KINDS.get(name.split()[-1].lower() if name.split() else "")
        if section is None:
            close = nearest(name, [part for one in PARTS for part in self.draft.entries(one)])
            named = f"`{close}`, the nearest known" if close else "a part of the file"
            expected = f"{named}, or a name that ends in `pump`, `screen`, `filter`, `valve`,"
            self.faults.add(place, f"{quoted(name)} in a chain", f"{expected} `tee`, `vent` or so")
            return False
        self.draft.entry(section, name, place)
        return True

    def join(self) -> set[tuple[str, str]]:
        """Make a line for every link, those that go through a part first; give the ports joined."""
        before = set(self.taken)
        for link in sorted(self.links, key=lambda link: not (link[4] or link[5])):
            kind, place, a, b, within_a, within_b = link
            start = a.port or self.port(kind, a.part, leaving=True, within=within_a)
            end = b.port or self.port(kind, b.part, leaving=False, within=within_b)
            self.taken |= {(a.part, start), (b.part, end)}
            line = self.draft.entry("lines", self.name(a.part, b.part), place)
            put(line, "from", f"{a.part}.{start}", place)
            put(line, "to", f"{b.part}.{end}", place)
            if b.length and "length" not in line.entries:
                put(line, "cut-length", b.length, place)
            if b.tube:
                put(line, "tube", b.tube, place)
        return self.taken - before

    def name(self, start: str, end: str) -> str:
        """Name of the line between two parts."""
        first, _, rest = end.partition(" ")
        shorter = rest if rest and start.partition(" ")[0] == first else end
        name = f"{start} to {shorter}"
        return name if len(name) <= LONGEST_NAME else f"{start[:17].strip()} to {end[-17:].strip()}"

    def port(self, kind: str, name: str, *, leaving: bool, within: bool) -> str:
        """Port at which a line leaves a part or comes to it."""
        section = self.draft.section_of(name) or ""
        if section in _SINGLE:
            return _SINGLE[section]
        if section in _THROUGH:
            return "out" if leaving else "in"
        if section == "tees":
            return self.free(name, _tee_ports(leaving, within), PORT_NAMES[Tee])
        return self.tank_port(kind, name, leaving)

    def tank_port(self, kind: str, name: str, leaving: bool) -> str:
        """Port of a tank by what passes it."""
        tank = self.draft.entries("tanks").get(name)
        if kind == "vent":
            wanted: tuple[str, ...] = ("vent", "overflow", "vent 2", "vent 3")
        elif kind == "fill":
            wanted = ("fill", "fill 2")
        elif leaving:
            header = is_header(name, tank)
            wanted = ("out", "feed", "out 2") if header else ("feed", "out", "feed 2")
        else:
            wanted = ("in", "in 2", "in 3")
        ports = tank.entries.get("ports") if tank else None
        stated = ports.entries if isinstance(ports, Mapping) else {}
        declared = tuple(one for one in wanted if one in stated)
        return self.free(name, declared, wanted)

    def free(self, name: str, first: tuple[str, ...], otherwise: tuple[str, ...]) -> str:
        """The first port that is free; the last one where none is, which the reader reports."""
        every = (*first, *otherwise)
        return next((one for one in every if (name, one) not in self.taken), every[-1])


def _tee_ports(leaving: bool, within: bool) -> tuple[str, ...]:
    """Ports of a tee in the order in which they are given out."""
    if within:
        return ("run-b",) if leaving else ("run-a",)
    return ("branch",) if leaving else ("run-a", "run-b")
