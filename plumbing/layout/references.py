"""Names that point at nothing, and ports asked to hold what they cannot."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import replace

from plumbing.frozen import frozen
from plumbing.layout import tube_names
from plumbing.layout.forms import Form, Items, Record, Section, Tagged, Text, fields_of
from plumbing.layout.gathering import Faults, listed, quoted
from plumbing.layout.tree import Mapping as Branch
from plumbing.layout.tree import Node, Scalar, Sequence
from plumbing.layout.values import is_nothing
from plumbing.model.fields import Refers
from plumbing.model.layout import PART_SECTIONS, Layout, Part, port_names, split_port
from plumbing.model.line import Tube
from plumbing.place import Place


@frozen
class Reference:
    """A word of the file that names something else in it."""

    to: str
    word: str
    place: Place


def check(root: Branch, layout: Layout, catalogue: Mapping[str, Tube], faults: Faults) -> None:
    """Note every reference without a target.

    Parameters
    ----------
    root : Mapping
        The tree of the file.
    layout : Layout
        What could be read of it; parts with faults of their own are not in it.
    catalogue : mapping of str to Tube
        Tubes a line may be cut from besides the file's own.
    faults : Faults
        Receives the faults.
    """
    _empty(root, faults)
    names = _Names(root, layout, catalogue)
    _names_twice(root, faults)
    for reference in _references(Record(Layout), root):
        names.look_up(reference, faults)
    _lines(layout, faults)
    _order(layout, faults)
    _fill_port(layout, names, faults)


class _Names:
    """Everything a file gives a name to, also where what it names has faults."""

    def __init__(self, root: Branch, layout: Layout, catalogue: Mapping[str, Tube]) -> None:
        self.sections = {
            key: set(node.entries) if isinstance(node, Branch) else set()
            for key, node in root.entries.items()
        }
        self.parts = {name for s in PART_SECTIONS for name in self.of(s.replace("_", "-"))}
        counts = Counter(part.name for part in layout.parts())
        self.sound: dict[str, Part] = {p.name: p for p in layout.parts() if counts[p.name] == 1}
        self.passages = {name: set(former.passages) for name, former in layout.formers.items()}
        self.tubes = set(catalogue) | self.of("tubes")

    def of(self, key: str) -> set[str]:
        return self.sections.get(key, set())

    def look_up(self, reference: Reference, faults: Faults) -> None:
        """Note a fault where a reference has no target."""
        match reference.to:
            case "port":
                self.port(reference, faults)
            case "passage":
                self.passage(reference, faults)
            case "part":
                self.among(reference, "part", self.parts | self.of("lines"), faults)
            case "solid":
                solids = self.of("tanks") | self.of("formers") | self.of("zones")
                self.among(reference, "tank, former or zone", solids, faults)
            case "tubes":
                self.tube(reference, faults)
            case section:
                self.among(reference, section.rstrip("s"), self.of(section), faults)

    def among(self, reference: Reference, what: str, known: set[str], faults: Faults) -> None:
        if reference.word not in known:
            faults.unknown(reference.place, f"no {what}", reference.word, sorted(known))

    def tube(self, reference: Reference, faults: Faults) -> None:
        words = sorted(self.tubes)
        found = [] if reference.word in self.tubes else tube_names.meant(reference.word, words)
        if found:
            turned = ": the outer diameter first" * tube_names.inner_first(reference.word)
            faults.add(reference.place, f"no tube {quoted(reference.word)}", listed(found) + turned)
        else:
            self.among(reference, "tube", self.tubes, faults)

    def port(self, reference: Reference, faults: Faults) -> None:
        name, port = split_port(reference.word)
        if name not in self.parts:
            faults.unknown(
                reference.place, "no part", name, sorted(self.parts), ", or a part of that name"
            )
            return
        part = self.sound.get(name)
        if part is None:  # its own faults are reported; its ports are not known for certain
            return
        ports = port_names(part)
        if port in ports or (not port and len(ports) == 1):
            return
        if port:
            faults.unknown(reference.place, f"`{name}` has no port", port, ports)
        else:
            right = listed(f"{name}.{one}" for one in ports)
            faults.add(reference.place, f"`{name}` without its port", right)

    def passage(self, reference: Reference, faults: Faults) -> None:
        name, passage = split_port(reference.word)
        formers = self.of("formers")
        if name not in formers:
            faults.unknown(reference.place, "no former", name, sorted(formers))
        elif name in self.passages and passage not in self.passages[name]:
            known = [f"{name}.{one}" for one in self.passages[name]]
            faults.unknown(reference.place, "no passage", reference.word, known)


def _references(form: Form, node: Node) -> Iterator[Reference]:
    """Every word of a tree that names something else."""
    match form, node:
        case Text(refers=Refers(to=target)), Scalar(text=word) if word.strip():
            yield Reference(target, word.strip(), node.place)
        case Items(), Sequence():
            for item in node.items:
                yield from _references(form.item, item)
        case Section(), Branch():
            for entry in node.entries.values():
                yield from _references(form.item, entry)
        case ((Tagged() | Record()), Branch()):
            inner = _inner(form)
            for key, entry in node.entries.items():
                if key in inner:
                    yield from _references(inner[key], entry)


def _inner(form: Tagged | Record) -> dict[str, Form]:
    """Forms under the keys of a mapping."""
    if isinstance(form, Tagged):
        return {kind: Record(cls) for kind, cls in form.kinds.items()}
    return {key: field.form for key, field in fields_of(form.cls).items()}


def _empty(root: Branch, faults: Faults) -> None:
    """Note the sections without which there is nothing to compute."""
    for key in ("engines", "tanks", "lines"):
        node = root.entries.get(key)
        if node is not None and (
            is_nothing(node) or (isinstance(node, Branch) and not node.entries)
        ):
            faults.add(root.keys[key], f"`{key}` with nothing in it", f"one or more {key}")


def _names_twice(root: Branch, faults: Faults) -> None:
    """Note parts of different sections with one name."""
    first: dict[str, tuple[str, Place]] = {}
    for section in PART_SECTIONS:
        key = section.replace("_", "-")
        node = root.entries.get(key)
        for name, place in node.keys.items() if isinstance(node, Branch) else ():
            if name in first:
                other, where = first[name]
                found = f"a part {quoted(name)} in `{key}` and in `{other}`, line {where.line}"
                faults.add(place, found, "a name of its own for every part")
            else:
                first[name] = (key, place)


def _lines(layout: Layout, faults: Faults) -> None:
    """Note lines that join a port to itself or a port that is taken."""
    taken: dict[tuple[str, str], str] = {}
    parts = {part.name: part for part in layout.parts()}
    for line in layout.lines.values():
        start, end = (_whole(word, parts) for word in (line.from_, line.to))
        if start == end:
            faults.add(
                line.place_of("to"),
                f"line `{line.name}` from `{'.'.join(start)}` to itself",
                "a line from one port to another",
            )
            continue
        for name, port in (("from_", start), ("to", end)):
            if port in taken:
                faults.add(
                    line.place_of(name),
                    f"port `{'.'.join(port)}` on line `{line.name}` and on `{taken[port]}`",
                    "one line at a port; join lines by a tee",
                )
            elif port[0] in parts:
                taken[port] = line.name


def _whole(word: str, parts: Mapping[str, Part]) -> tuple[str, str]:
    """Part and port, the port filled in where a part has one only."""
    name, port = split_port(word)
    if not port and name in parts:
        ports = port_names(parts[name])
        port = ports[0] if len(ports) == 1 else ""
    return name, port


def _order(layout: Layout, faults: Faults) -> None:
    """Note a tank that stands twice in the feed order."""
    seen: set[str] = set()
    for name in layout.feed_order:
        if name in seen:
            faults.add(
                layout.place_of("feed_order"), f"tank `{name}` twice", "every tank once, in order"
            )
        seen.add(name)


def _fill_port(layout: Layout, names: _Names, faults: Faults) -> None:
    """Note a filling through a part that is no fill port."""
    name = layout.filling.port
    if name in names.parts and name not in names.of("fill-ports"):
        place = layout.filling.place_of("port")
        faults.add(place, f"`{name}`, which is no fill port", listed(names.of("fill-ports")))


def with_ports(layout: Layout) -> Layout:
    """Layout in which every end of a line is `part.port`, also where the part stood alone."""
    parts = {part.name: part for part in layout.parts()}
    lines = {
        name: replace(
            line, from_=".".join(_whole(line.from_, parts)), to=".".join(_whole(line.to, parts))
        )
        for name, line in layout.lines.items()
    }
    return replace(layout, lines=lines)
