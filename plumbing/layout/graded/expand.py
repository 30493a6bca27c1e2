"""A short file made whole: each key that a part must have and that the file may leave out."""

import re
from collections.abc import Iterator

from plumbing import quantities
from plumbing.layout import values
from plumbing.layout.forms import Number
from plumbing.layout.gathering import Faults
from plumbing.layout.graded import ranges
from plumbing.layout.graded.chains import lines_from_chains
from plumbing.layout.graded.draft import (
    HEADER_WORDS,
    PARTS,
    Draft,
    copied,
    is_header,
    put,
    text_of,
)
from plumbing.layout.graded.groups import spread_out
from plumbing.layout.graded.keys import FLOOR, HEIGHT
from plumbing.layout.graded.ranges import Range
from plumbing.layout.graded.sides import Sides, fill_lines
from plumbing.layout.graded.unsaid import Unsaid
from plumbing.layout.tree import Mapping, Node, Scalar, Sequence
from plumbing.model.fields import Quantity
from plumbing.place import Place

_HEIGHT = Number(Quantity("length", -100.0, 100.0))
_SIZES = re.compile(r"([\d.]+) ?x ?([\d.]+) ?x ?([\d.]+) ?mm")
_JOINTS = {"joint", "from-joint", "to-joint"}
_CLUNK = "a clunk on a hose that reaches the corners"
_TURNED = "in line with its neighbours"


def expanded(root: Mapping, faults: Faults) -> tuple[Mapping, Unsaid]:
    """Fill in what a file leaves out, as far as a tree can hold it.

    Places are put at the origin here, and where they belong by `placed`, once all is read.

    Parameters
    ----------
    root : Mapping
        Tree of the file.
    faults : Faults
        Receives what cannot be filled in.

    Returns
    -------
    Mapping
        A tree with all keys that the model needs.
    Unsaid
        What was filled in.
    """
    draft, unsaid = Draft(root), Unsaid()
    _spell_out(draft)
    made = lines_from_chains(draft, faults)
    spread_out(draft, faults)
    fill_lines(draft, unsaid, faults)
    put(draft.root, "origin", "not stated")
    _Parts(draft, unsaid, faults, made).fill()
    return draft.root, unsaid


def _spell_out(draft: Draft) -> None:
    """Write `main: 1.5 L` as a tank of that capacity, `engine: 60 N` as one of that thrust."""
    for section, keys in (
        ("tanks", {"volume": "capacity"}),
        ("engines", {"force": "thrust", "flow": "full-flow"}),
    ):
        held = draft.root.entries.get(section)
        if not isinstance(held, Mapping):
            continue
        for name, node in held.entries.items():
            if (
                section == "tanks"
                and isinstance(node, Scalar)
                and (said := _SIZES.fullmatch(node.text))
            ):
                held.entries[name] = _box([f"{one} mm" for one in said.groups()], node.place)
            elif isinstance(node, Scalar) and node.text:
                key = next((keys[kind] for kind in keys if _reads(node.text, kind)), None)
                key = key or next(iter(keys.values()))  # the reader then says what is expected
                held.entries[name] = Mapping({key: node}, {key: node.place}, node.place)


def _box(sizes: list[str], place: Place) -> Mapping:
    """A tank as a box of these inner sizes."""
    size: Node = Sequence(tuple(Scalar(one, False, place) for one in sizes), place)
    found = Mapping({"size": size}, {"size": place}, place)
    for key in ("box", "shape"):
        found = Mapping({key: found}, {key: place}, place)
    return found


def _reads(text: str, kind: str) -> bool:
    try:
        quantities.parse(text.strip(), kind)
    except quantities.UnitError:
        return False
    return True


class _Parts:
    """Fills in the keys of parts."""

    def __init__(
        self, draft: Draft, unsaid: Unsaid, faults: Faults, made: set[tuple[str, str]]
    ) -> None:
        self.draft, self.unsaid, self.faults, self.made = draft, unsaid, faults, made
        self.lines = draft.entries("lines")
        self.side = Sides(draft)

    def fill(self) -> None:
        """Fill in all sections."""
        for section in PARTS:
            for name, part in self.draft.entries(section).items():
                self.height(name, part, tank=section == "tanks")
                if section == "tanks":
                    self.tank(name, part)
                    continue
                path = f"{section}.{name}"
                if section == "valves":
                    self.valve(name, part)
                if section != "engines":
                    self.bore(f"{path}.bore", part, self.joined(name))
                if section == "filters":
                    self.drops(name, part)
                self.at(path, part)
        for name, line in self.lines.items():
            self.barb(name, line)

    def height(self, name: str, part: Mapping, *, tank: bool) -> None:
        """Take the height of a part, which counts where its place is not said."""
        key = FLOOR if tank else HEIGHT
        node, where = part.entries.pop(key, None), part.keys.pop(key, part.place)
        if node is None:
            return
        if "at" in (_shape_of(part) if tank else part).entries:
            self.faults.add(where, f"`{key}` of `{name}` beside its place", "one of the two")
        value = values.number(_HEIGHT, node, self.faults)
        if isinstance(value, float):
            self.unsaid.heights[name] = value

    def at(self, path: str, part: Mapping) -> None:
        """Place a part nowhere yet."""
        if "at" not in part.entries:
            put(part, "at", _nowhere(part.place))
            self.unsaid.rest(f"{path}.at", _TURNED)

    def joined(self, name: str, port: str = "") -> str:
        """The first line on a part, or on one of its ports."""
        for line, entry in self.lines.items():
            for end in ("from", "to"):
                part, _, own = text_of(entry, end).partition(".")
                if part == name and port in ("", own):
                    return line
        return ""

    def bore(self, path: str, part: Mapping, line: str, *, stated: bool = True) -> None:
        """Bore of a fitting from that of the tube on it; not stated, it stays that of the tube."""
        if "bore" not in part.entries:
            valve = path.startswith("valves.")
            tube, could = self.fitting(line, ranges.VALVE if valve else ranges.BARB)
            words = f"bore of {'valves' if valve else 'barbs and fittings'} on {tube}"
            if stated:
                put(part, "bore", self.unsaid.number(path, words, "length", could))
            else:
                self.unsaid.number(path, words, "length", could, stated=False)

    def fitting(self, line: str, share: Range) -> tuple[str, Range]:
        """Tube of a line, and what the bore of a fitting on it could be."""
        tube, bore = self.side.tube(line)
        if f"lines.{line}.tube" not in self.unsaid.paths:
            return tube, share.times(bore)
        pressed = self.side.of(line) == "pressure"
        of_tube = ranges.PRESSURE_BORE if pressed else ranges.TUBE_BORE
        bounds = (one * other for one, other in zip(share, of_tube, strict=True))
        return "the tube that is not said", Range(*bounds)

    def barb(self, name: str, line: Mapping) -> None:
        """Barbs of a line that names no joint: they may be narrower than the ports."""
        if not _JOINTS & set(line.entries):
            tube, could = self.fitting(name, ranges.BARB)
            words = f"bore of barbs and fittings on {tube}"
            self.unsaid.number(f"lines.{name}.joint", words, "length", could, stated=False)

    def valve(self, name: str, part: Mapping) -> None:
        """Kind of a valve by its name."""
        if "kind" in part.entries:
            return
        words = name.lower().split()
        kinds = {"check": "check", "electric": "electric", "solenoid": "electric"}
        kind = next((kinds[word] for word in words if word in kinds), "shut-off")
        if words[-2:] == ["fuel", "valve"]:
            kind = "electric"
        put(part, "kind", kind)
        if kind == "shut-off" and words[-1] not in ("shut-off", "shutoff", "tap"):
            self.unsaid.rest(f"valves.{name}.kind", kind)

    def drops(self, name: str, part: Mapping) -> None:
        """Drops of a filter by where it stands."""
        if "clean-drop" in part.entries:
            return
        fine = self.side.of(self.joined(name)) == "pressure"
        clean, dirty = (
            (ranges.FINE, ranges.FINE_DIRTY) if fine else (ranges.SCREEN, ranges.SCREEN_DIRTY)
        )
        for key, could, words in (
            ("clean-drop", clean, f"drop of {name}, clean"),
            ("dirty-drop", dirty, f"drop of {name}, due for change"),
        ):
            if key not in part.entries:
                path = f"filters.{name}.{key}"
                put(part, key, self.unsaid.number(path, words, "pressure", could))
                self.unsaid.paths[path] = None

    def tank(self, name: str, tank: Mapping) -> None:
        """Shape and ports of a tank."""
        header = is_header(name, tank)
        if header and name.split()[-1].lower() in HEADER_WORDS:
            put(tank, "role", "header")
        if "shape" not in tank.entries:
            self.shape(name, tank, header)
        else:
            self.somewhere(name, tank)
        ports = self.ports(name, tank)
        for port in ports:
            entry = self.port(tank, port)
            if entry is None:
                continue
            path = f"tanks.{name}.ports.{port}"
            made = "at" not in entry.entries
            if made:
                put(entry, "at", _nowhere(entry.place))
                self.unsaid.rest(f"{path}.at", "in the roof, or an outlet low in the aft wall")
                self.pickup(path, entry, header)
            line = self.joined(name, port)
            if line and not _JOINTS & set(self.lines[line].entries):
                self.bore(f"{path}.bore", entry, line, stated=made)

    def pickup(self, path: str, port: Mapping, header: bool) -> None:
        """A clunk at a port that fuel leaves by."""
        feeds = path.rpartition(".")[2].startswith("feed") and not header
        if feeds and "pickup" not in port.entries:
            kind = Scalar("clunk", False, port.place)
            put(port, "pickup", Mapping({"kind": kind}, {"kind": port.place}, port.place))
            self.unsaid.rest(f"{path}.pickup", _CLUNK)

    def shape(self, name: str, tank: Mapping, header: bool) -> None:
        """A box of the volume that is said."""
        text = text_of(tank, "capacity")
        if not text:
            found = f"tank `{name}` without `capacity` and without `shape`"
            self.faults.add(tank.place, found, "its volume, such as `capacity: 1.5 L`")
        volume = quantities.parse(text, "volume") if _reads(text, "volume") else 1e-3
        slender = ranges.SLENDER_HEADER if header else ranges.SLENDER
        path = f"tanks.{name}.shape"
        height = slender.times(max(volume, 1e-9) ** (1.0 / 3.0))
        self.unsaid.number(f"{path}.size", f"height of tank {name}", "length", height)
        wide = (volume / height.usual / (1.0 if header else 2.0)) ** 0.5
        size = (wide if header else 2.0 * wide, wide, height.usual)
        box = {"at": _nowhere(tank.place), "size": _point(size, tank.place)}
        where = dict.fromkeys(box, tank.place)
        inner: dict[str, Node] = {"box": Mapping(box, where, tank.place)}
        put(tank, "shape", Mapping(inner, {"box": tank.place}, tank.place))
        self.unsaid.rest(path, "a box of that volume")

    def somewhere(self, name: str, tank: Mapping) -> None:
        """Place a shape nowhere yet where only its sizes are said."""
        shape = tank.entries["shape"]
        if not isinstance(shape, Mapping) or len(shape.entries) != 1:
            return
        ((kind, inner),) = shape.entries.items()
        if isinstance(inner, Mapping) and "at" not in inner.entries:
            solid = copied(inner)
            put(solid, "at", _nowhere(inner.place))
            tank.entries["shape"] = Mapping({kind: solid}, shape.keys, shape.place)
            self.unsaid.rest(f"tanks.{name}.shape.at", _TURNED)

    def ports(self, name: str, tank: Mapping) -> tuple[str, ...]:
        """Ports of a tank: those it has, and those that lines join."""
        used = {
            port: None
            for line in self.lines.values()
            for end in ("from", "to")
            for part, _, port in (text_of(line, end).partition("."),)
            if part == name and port
        }
        stated = tank.entries.get("ports")
        if stated is None:
            put(tank, "ports", Mapping({}, {}, tank.place))
        elif isinstance(stated, Mapping):
            tank.entries["ports"] = copied(stated)
            made = (port for port in used if (name, port) in self.made)
            return tuple(dict.fromkeys((*stated.entries, *made)))
        return tuple(used)

    def port(self, tank: Mapping, name: str) -> Mapping | None:
        """One port, made where there is none; None where what is written there is none."""
        ports = tank.entries["ports"]
        if not isinstance(ports, Mapping):
            return None
        found = ports.entries.get(name, Mapping({}, {}, tank.place))
        if not isinstance(found, Mapping):
            return None
        made = Mapping(dict(found.entries), dict(found.keys), found.place)
        ports.entries[name] = made
        ports.keys.setdefault(name, made.place)
        return made


def _shape_of(tank: Mapping) -> Mapping:
    """What a tank says of its solid; nothing where it says none."""
    shape = tank.entries.get("shape")
    inner = next(iter(shape.entries.values()), None) if isinstance(shape, Mapping) else None
    return inner if isinstance(inner, Mapping) else Mapping({}, {}, tank.place)


def _nowhere(place: Place) -> Node:
    return _point((0.0, 0.0, 0.0), place)


def _point(point: tuple[float, float, float], place: Place) -> Node:
    def words() -> Iterator[Node]:
        for one in point:
            yield Scalar(f"{1e3 * one:.6g} mm", False, place)

    return Sequence(tuple(words()), place)
