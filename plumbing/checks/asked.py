"""Of what a statement of the layout file is asked: sections, parts, and parts of some kind."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import field

from plumbing.checks.joints import kinds_used, stated, unstated
from plumbing.checks.kit import Case, Lacking
from plumbing.checks.materials import is_metal
from plumbing.checks.pickups import clunk_hoses, clunks
from plumbing.checks.sides import FEED, filters_on, valves_on
from plumbing.checks.words import called, on_lines, subject
from plumbing.frozen import frozen
from plumbing.model.line import Line
from plumbing.model.structure import Former, Passage
from plumbing.network.former_holes import passages

_SOAKS = ("plywood", "balsa", "foam")
_CLOSED = ("sealed-radius", "liner")


@frozen
class Asked:
    """One thing of which a statement is asked.

    Attributes
    ----------
    name : str
        Name of the part or section that a finding is about.
    path : str
        Key path in the layout file of what is asked.
    value : object
        Its value in the model; None where the file does not describe it.
    words : dict
        What a sentence may name, such as `name`, `part` and, at its beginning, `Part`.
    model_field : str
        Model field at fault, if it is not the first key asked.
    parts : tuple of str
        Other parts involved.
    """

    name: str
    path: str
    value: object
    words: dict[str, str] = field(default_factory=dict)
    model_field: str = ""
    parts: tuple[str, ...] = ()


Asking = Iterator[Asked | Lacking]


def asked_of(case: Case, of: str) -> Asking:
    """Everything of which is asked.

    Parameters
    ----------
    case : Case
        The layout under examination.
    of : str
        A section of the file as it is written there, or a key of `CHOSEN`.
    """
    if of in CHOSEN:
        return CHOSEN[of](case)
    value = getattr(case.layout, of.replace("-", "_"))
    return _each(of, value) if isinstance(value, dict) else iter([Asked(of, of, value)])


def _each(section: str, parts: Mapping[str, object], kind: str = "") -> Asking:
    kind = kind or section.removesuffix("s").replace("-", " ")
    for name, part in parts.items():
        words = {"name": name, "part": called(kind, name), "Part": subject(kind, name)}
        yield Asked(name, f"{section}.{name}", part, words)


def _suction_filters(case: Case) -> Asking:
    return _each("filters", {part.name: part for part in filters_on(case, "suction")})


def _suction_valves(case: Case) -> Asking:
    return _each("valves", {part.name: part for part in valves_on(case, "suction")})


def _filters_and_pumps(case: Case) -> Asking:
    yield from _each("filters", case.layout.filters)
    yield from _each("pumps", case.layout.pumps)


def _electric_feed_valves(case: Case) -> Asking:
    valves = {one.name: one for one in valves_on(case, *FEED) if one.kind == "electric"}
    return _each("valves", valves, "electric valve")


def _plugged_outlets(case: Case) -> Asking:
    outlets = case.layout.outlets.items()
    return _each("outlets", {name: outlet for name, outlet in outlets if outlet.plug is not None})


def _lines_near_straps(case: Case) -> Asking:
    """Every line where a tank has straps, else those of which the file speaks."""
    layout = case.layout
    strapped = any(tank.fixing.straps for tank in layout.tanks.values())
    lines = layout.lines.items()
    return _each(
        "lines", {name: line for name, line in lines if strapped or line.under_strap is not None}
    )


def _clunk_hoses(case: Case) -> Asking:
    for tank, port, hose in clunk_hoses(case.layout):
        path = f"tanks.{tank.name}.ports.{port.name}.pickup.hose"
        yield Asked(tank.name, path, hose, {"tank": tank.name, "port": port.name}, "ports")


def _composite_clunks(case: Case) -> Asking:
    for tank, port, pickup in clunks(case.layout):
        if tank.wall is not None and tank.wall.kind == "composite":
            path = f"tanks.{tank.name}.ports.{port.name}.pickup"
            yield Asked(tank.name, path, pickup, {"tank": tank.name}, "ports")


def _passages(case: Case) -> Asking:
    return (_passage(*one) for one in passages(case.layout))


def _firewall_passages(case: Case) -> Asking:
    return (_passage(*one) for one in passages(case.layout) if one[0].firewall)


def _soaking_passages(case: Case) -> Asking:
    """Passages whose edge takes up fuel unless it is sealed."""
    for former, passage in passages(case.layout):
        if former.material in _SOAKS and passage.edge not in _CLOSED:
            yield _passage(former, passage)


def _passage(former: Former, passage: Passage) -> Asked:
    words = {
        "passage": passage.name,
        "former": former.name,
        "firewall": called("firewall", former.name),
        "material": str(former.material),
    }
    path = f"formers.{former.name}.passages.{passage.name}"
    return Asked(former.name, path, passage, words, "passages")


def _joints_in_use(case: Case) -> Asking:
    return _joints(case, case.layout.lines)


def _joints_on_metal(case: Case) -> Asking:
    ends = stated(case.layout)
    return _joints(case, {x.line.name: x.line for x in ends if is_metal(x.tube.material)})


def _joints(case: Case, lines: Mapping[str, Line]) -> Asking:
    yield from unstated(case.layout)
    for joint, names in kinds_used(case.layout, lines.values()):
        words = {"part": called("joint", joint.name), "lines": on_lines(names)}
        words["Part"] = subject("joint", joint.name)
        yield Asked(joint.name, f"joints.{joint.name}", joint, words, parts=names)


CHOSEN: dict[str, Callable[[Case], Asking]] = {
    "filters on the suction side": _suction_filters,
    "valves on the suction side": _suction_valves,
    "filters and pumps": _filters_and_pumps,
    "electric valves of the feed": _electric_feed_valves,
    "outlets with a plug": _plugged_outlets,
    "lines near straps": _lines_near_straps,
    "hoses of clunks": _clunk_hoses,
    "clunks of composite tanks": _composite_clunks,
    "passages": _passages,
    "passages of a firewall": _firewall_passages,
    "passages that soak": _soaking_passages,
    "joints in use": _joints_in_use,
    "joints on metal tube": _joints_on_metal,
}
