"""Tubes and lengths of lines by the side they are on: suction, pressure, vent or fill."""

from plumbing import quantities
from plumbing.layout import tube_names, values
from plumbing.layout.catalogue import catalogue
from plumbing.layout.gathering import Faults
from plumbing.layout.graded import ranges
from plumbing.layout.graded.draft import Draft, is_header, put, text_of
from plumbing.layout.graded.keys import SIDES
from plumbing.layout.graded.unsaid import Unsaid
from plumbing.layout.tree import Mapping, Node, Scalar


class Sides:
    """The side each line is on, and what tube it is cut from."""

    def __init__(self, draft: Draft) -> None:
        self.lines = draft.entries("lines")
        self.own = draft.entries("tubes")
        self.ends = {
            name: tuple(text_of(line, end).partition(".")[::2] for end in ("from", "to"))
            for name, line in self.lines.items()
        }
        self.outside = {
            side: set(draft.entries(section)) | _names(draft, section)
            for side, section in (("vent", "outlets"), ("fill", "fill-ports"))
        }
        self.behind = self._behind(_names(draft, "pumps"), _names(draft, "engines"))

    def of(self, line: str) -> str:
        """Side a line is on."""
        ends = self.ends.get(line, ())
        if line in self.behind:
            return "pressure"
        for side, parts in self.outside.items():
            if any(part in parts or port.startswith(side) for part, port in ends):
                return side
        return "suction"

    def tube(self, line: str) -> tuple[str, float]:
        """Name and bore [m] of a line's tube; the usual one where it has none that is known."""
        name = text_of(self.lines[line], "tube") if line in self.lines else ""
        own = text_of(self.own[name], "inside-diameter") if name in self.own else ""
        try:
            if own:
                return name, quantities.parse(own, "length")
        except quantities.UnitError:
            pass
        if name in catalogue():
            return name, catalogue()[name].inside_diameter
        return "its tube", ranges.TUBE_BORE.usual

    def _behind(self, pumps: set[str], engines: set[str]) -> set[str]:
        """Lines behind a pump, up to the engine."""
        found: set[str] = set()
        reached = {(pump, "out") for pump in pumps}
        while reached:
            part, port = reached.pop()
            for name, ends in self.ends.items():
                if name in found or (part, port) not in ends:
                    continue
                found.add(name)
                (other,) = [one for one in ends if one != (part, port)][:1] or [("", "")]
                if other[0] and other[0] not in engines:
                    every = {one for both in self.ends.values() for one in both}
                    reached |= {one for one in every if one[0] == other[0] and one != other}
        return found


def _names(draft: Draft, section: str) -> set[str]:
    node = draft.root.entries.get(section)
    return set(node.entries) if isinstance(node, Mapping) else set()


def fill_lines(draft: Draft, unsaid: Unsaid, faults: Faults) -> None:
    """Give every line a tube, and a length where neither its length nor its ends are known."""
    tubes, lengths = (_by_side(draft, key, faults) for key in ("tube", "length"))
    sides = Sides(draft)
    for name, line in sides.lines.items():
        side = sides.of(name)
        if "tube" not in line.entries:
            _tube(name, line, side, tubes, unsaid)
        if {"cut-length", "length", "route"} & set(line.entries):
            continue
        node = lengths.get(side)
        if node is not None:
            put(line, "cut-length", node, node.place)
        elif not all(_placed(draft, *end) for end in sides.ends[name]):
            put(line, "cut-length", _length(draft, name, sides, unsaid))


def _by_side(draft: Draft, key: str, faults: Faults) -> dict[str, Node]:
    """What a key says for all lines at once, by side."""
    node = draft.taken(key)
    if node is None or values.is_nothing(node):
        return {}
    if isinstance(node, Scalar):
        return dict.fromkeys(SIDES, node)
    if not isinstance(node, Mapping):
        faults.add(node.place, values.described(node), f"one {key} for all lines, or one by side")
        return {}
    for side, place in node.keys.items():
        if side not in SIDES:
            faults.unknown(place, "no side", side, SIDES)
    found = dict(node.entries)
    for side in ("vent", "fill"):
        if side not in found and "suction" in found:
            found[side] = found["suction"]
    return found


def _tube(name: str, line: Mapping, side: str, tubes: dict[str, Node], unsaid: Unsaid) -> None:
    """Tube of a line that names none."""
    node = tubes.get(side)
    if isinstance(node, Scalar):
        meant = tube_names.meant(node.text, [*catalogue()])
        text = node.text if node.text in catalogue() or len(meant) != 1 else meant[0]
        put(line, "tube", Scalar(text, node.quoted, node.place), node.place)
        return
    pressed = side == "pressure"
    could = ranges.PRESSURE_BORE if pressed else ranges.TUBE_BORE
    usual = ranges.TUBES["pressure" if pressed else "suction"]
    where = "behind the pump" if pressed else "before the pump and in the vents"
    put(line, "tube", usual)
    unsaid.number(f"lines.{name}.tube", f"bore of the tube {where}", "length", could)
    unsaid.rest(f"lines.{name}.tube", usual)


def _placed(draft: Draft, part: str, port: str) -> bool:
    """Whether the place of a line's end is said."""
    section = draft.section_of(part)
    if section is None:
        return True  # its fault is found by the reader
    entry = draft.entries(section).get(part)
    if entry is not None and section == "tanks":
        ports = entry.entries.get("ports")
        entry = ports.entries.get(port) if isinstance(ports, Mapping) else None  # type: ignore[assignment]
    return isinstance(entry, Mapping) and "at" in entry.entries


def _length(draft: Draft, name: str, sides: Sides, unsaid: Unsaid) -> str:
    """A usual length by what a line joins."""
    ends = [part for part, _ in sides.ends[name]]
    joined = {draft.section_of(part) for part in ends}
    tanks = draft.entries("tanks")
    could = ranges.BETWEEN
    if "outlets" in joined or any(one in tanks and not is_header(one, tanks[one]) for one in ends):
        could = ranges.FROM_TANK
    elif "engines" in joined:
        could = ranges.TO_ENGINE
    return unsaid.number(f"lines.{name}.cut-length", f"length of line {name}", "length", could)
