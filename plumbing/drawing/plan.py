"""What is to be placed: figures, the legs that join them, columns and stacks."""

from dataclasses import dataclass, field

from plumbing.drawing.figures import (
    SMALL,
    Figure,
    label_figure,
    side_figure,
    small_figure,
    tee_figure,
)
from plumbing.drawing.text import clean, elide
from plumbing.drawing.vessel import tank_figure
from plumbing.drawing.wiring import STREAM, Run, Wiring, kind_of
from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.model.parts import Tee
from plumbing.model.tank import Tank
from plumbing.units import show

LABEL_ROOM = 20.0
AIR = ("vent", "return")


@frozen
class Leg:
    """A stretch of a line between a part and the line's label.

    Attributes
    ----------
    run : Run
        The line.
    tail, head : str
        Keys of the figures joined.
    tail_port, head_port : str
        Their ports.
    main : bool
        Whether it is on the main stream, which ranks the figures.
    upright : bool
        Whether both figures stand in one column, `tail` nearer to the main stream.
    """

    run: Run
    tail: str
    tail_port: str
    head: str
    head_port: str
    main: bool
    upright: bool = False


@dataclass(slots=True)
class Plan:
    """All figures and how they hang together.

    Attributes
    ----------
    figures : dict of str to Figure
        By key.
    legs : list of Leg
        Two for every line.
    columns : list of list of str
        Keys that share a column.
    stacks : list of (str, str)
        Upper and lower neighbours within a column.
    keys : dict of str to str
        Key of each part.
    levels : dict of str to int
        Steps of each figure from the main stream.
    """

    figures: dict[str, Figure] = field(default_factory=dict)
    legs: list[Leg] = field(default_factory=list)
    columns: list[list[str]] = field(default_factory=list)
    stacks: list[tuple[str, str]] = field(default_factory=list)
    keys: dict[str, str] = field(default_factory=dict)
    levels: dict[str, int] = field(default_factory=dict)
    _families: dict[str, set[str]] = field(default_factory=dict)

    def entries(self, key: str) -> int:
        """Legs of the main stream that come into a figure."""
        return sum(leg.main and leg.head == key for leg in self.legs)

    def exits(self, key: str) -> int:
        """Legs of the main stream that leave a figure."""
        return sum(leg.main and leg.tail == key for leg in self.legs)

    def family(self, key: str) -> set[str]:
        """A figure with everything that stands above it or hangs below it."""
        return self._families.get(key, {key})

    def cross_links(self) -> list[Leg]:
        """Legs between a label and a part that hang on different parts of the main stream."""
        return [leg for leg in self.legs if not leg.main and not leg.upright]

    def merge(self, one: str, other: str) -> None:
        """Let two figures' columns be one column."""
        first = next(column for column in self.columns if one in column)
        second = next(column for column in self.columns if other in column)
        if first is not second:
            first += second
            self.columns.remove(second)

    def group(self) -> None:
        """Find the families once the columns are known."""
        for column in self.columns:
            self._families[column[0]] = set(column)


def lay_out(
    layout: Layout,
    wiring: Wiring,
    marks: dict[str, list[int]],
    peak: dict[str, float] | None = None,
) -> Plan:
    """Make the figures of a layout and say how they hang together."""
    plan = Plan()
    sides = _sides(layout, wiring)
    for place, part in enumerate(layout.parts()):
        key = f"p{place}"
        plan.keys[part.name] = key
        plan.levels[key] = 2 * wiring.depth.get(part.name, 0)
        found = marks.get(part.name, [])
        if isinstance(part, Tank):
            stays = part.name in wiring.stranded
            turn = None if stays else wiring.turns.get(part.name)
            plan.figures[key] = tank_figure(key, part, sides[part.name], turn, stays, found)
        elif isinstance(part, Tee):
            plan.figures[key] = tee_figure(key, part, found)
        elif part.name in wiring.hosts:
            way, above = _turn(part.name, layout, wiring), part.name in wiring.above
            plan.figures[key] = side_figure(key, part, way, above, found)
        else:
            plan.figures[key] = small_figure(key, part, _turn(part.name, layout, wiring), found)
    columns = {key: [key] for name, key in plan.keys.items() if name not in wiring.hosts}
    for name, host in wiring.hosts.items():
        columns[plan.keys[host]].append(plan.keys[name])
    for run in wiring.runs:
        _join(plan, layout, wiring, run, columns, marks, peak)
    plan.columns = list(columns.values())
    plan.group()
    return plan


def _turn(name: str, layout: Layout, wiring: Wiring) -> str:
    """Which way a part's `out` looks: the way of the stream unless it is built in reversed."""
    leaves = [run for run in wiring.runs if run.start[0] == name]
    enters = [run for run in wiring.runs if run.end[0] == name]
    forward = not any(run.start[1] == "in" for run in leaves) and not any(
        run.end[1] == "out" for run in enters
    )
    lone = name in layout.fill_ports or name in layout.outlets or name in layout.drains
    inlet = name in layout.fill_ports  # drawn with its line at `out`; the others at `in`
    if name not in wiring.hosts:
        if lone:
            forward = bool(leaves) == inlet
        return "right" if forward else "left"
    outward = _faces_out(name, wiring) != inlet
    if name in wiring.above:
        return "up" if outward else "down"
    return "down" if outward else "up"


def _faces_out(name: str, wiring: Wiring) -> bool:
    """Whether a part off the main stream has its `out` (or its opening) away from it."""
    depth = wiring.depth
    for run in wiring.runs:
        for (part, port), (other, _) in ((run.start, run.end), (run.end, run.start)):
            if part != name:
                continue
            outer = depth.get(other, 0) > depth[name]
            if port in {"in", "out"}:
                return (port == "out") == outer
    return True


def _sides(layout: Layout, wiring: Wiring) -> dict[str, dict[str, str]]:
    sides = {name: dict.fromkeys(tank.ports, "top") for name, tank in layout.tanks.items()}
    for run in wiring.runs:
        for (part, port), other, leaves in (
            (run.start, run.end[0], True),
            (run.end, run.start[0], False),
        ):
            if part not in sides:
                continue
            if run.role in AIR or other in wiring.above:
                side = "top"
            elif run.role in STREAM:
                side = "right" if leaves else "left"
            else:
                side = "right" if run.role == "drain" else "left"
            sides[part][port] = side
    return sides


def _texts(layout: Layout, run: Run, peak: dict[str, float] | None) -> list[str]:
    tube = layout.tube_of(run.line)
    outer, inner = tube.outside_diameter * 1e3, tube.inside_diameter * 1e3
    texts = [f"{outer:.3g}x{inner:.3g}", f"{round(run.length * 1e3)}"]
    if peak and run.line.name in peak:
        texts.append(show(abs(peak[run.line.name]), "flow"))
    return [elide(clean(text), LABEL_ROOM, SMALL) for text in texts]


def _join(
    plan: Plan,
    layout: Layout,
    wiring: Wiring,
    run: Run,
    columns: dict[str, list[str]],
    marks: dict[str, list[int]],
    peak: dict[str, float] | None,
) -> None:
    key = f"l{run.number}"
    texts, found = _texts(layout, run, peak), marks.get(run.line.name, [])
    on_stream = run.role in STREAM and not {run.start[0], run.end[0]} & set(wiring.hosts)
    if on_stream:
        plan.figures[key] = label_figure(key, run, texts, False, found)
        tail, head = plan.keys[run.start[0]], plan.keys[run.end[0]]
        plan.legs.append(Leg(run, tail, run.start[1], key, "in", True))
        plan.legs.append(Leg(run, key, "out", head, run.end[1], True))
        return
    plan.figures[key] = label_figure(key, run, texts, True, found)
    depth = wiring.depth
    inner, outer = sorted((run.start, run.end), key=lambda end: depth.get(end[0], 0))
    host = wiring.hosts.get(inner[0], inner[0])
    columns.setdefault(plan.keys[host], [plan.keys[host]]).append(key)
    above = outer[0] in wiring.above or run.role in AIR
    plan.figures[key].turn = "up" if (inner == run.start) == above else "down"
    plan.levels[key] = 2 * depth.get(inner[0], 0) + 1
    ins, outs = ("down", "up") if above else ("up", "down")
    plan.legs.append(Leg(run, plan.keys[inner[0]], inner[1], key, ins, False, True))
    same = wiring.hosts.get(outer[0], outer[0]) == host
    plan.legs.append(Leg(run, key, outs, plan.keys[outer[0]], outer[1], False, same))
    pairs = [(plan.keys[inner[0]], key)] + ([(key, plan.keys[outer[0]])] if same else [])
    plan.stacks += [(far, near) if above else (near, far) for near, far in pairs]


def kinds(plan: Plan) -> list[str]:
    """Kinds of symbol on the drawing, in the order of the key."""
    shown = {figure.kind for figure in plan.figures.values()} - {"label"}
    return [kind for kind in _KEY_ORDER if kind in shown]


_KEY_ORDER = (
    "tank",
    "header",
    "tee",
    "filter",
    "pump",
    "valve",
    "electric",
    "check",
    "connector",
    "outlet",
    "fill",
    "drain",
    "engine",
)

__all__ = ["Leg", "Plan", "kind_of", "kinds", "lay_out"]
