"""The layout read for drawing: which way lines flow, what is on the main stream, what hangs off.

The main stream runs from left to right: tanks, what lies between them, and the engine. Vent
parts stand above the tank they serve, fill and drain parts below what they join.
"""

from collections import deque
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Protocol

from plumbing.model.engine import Engine
from plumbing.model.layout import Layout, split_port
from plumbing.model.line import Line
from plumbing.model.parts import Connector, Drain, FillPort, Filter, Outlet, Pump, Tee, Valve
from plumbing.model.tank import Tank

STREAM = ("suction", "pressure")


class Surveyed(Protocol):
    """What the drawing needs of a survey of the network."""

    @property
    def roles(self) -> Mapping[str, str]:
        """Role of each line: suction, pressure, vent, fill, drain."""

    @property
    def ends(self) -> Mapping[str, tuple[str, str]]:
        """Ports of each line, upstream end first."""

    @property
    def feed_order(self) -> tuple[str, ...]:
        """Tanks in the order they empty."""

    @property
    def lengths(self) -> Mapping[str, float]:
        """Length of each line [m]."""


@dataclass(frozen=True, slots=True)
class Run:
    """A line as drawn.

    Attributes
    ----------
    line : Line
        The line.
    role : str
        suction, pressure, vent, fill or drain.
    start, end : tuple of str
        Part and port, in the direction of flow.
    number : int
        Its number on the drawing, from 1.
    length : float or None
        Length [m].
    """

    line: Line
    role: str
    start: tuple[str, str]
    end: tuple[str, str]
    number: int
    length: float | None


@dataclass(frozen=True, slots=True)
class Wiring:
    """Parts and lines with their part in the drawing.

    Attributes
    ----------
    runs : tuple of Run
        Lines in the order of the file.
    hosts : dict of str to str
        For every part off the main stream, the part on it that it hangs on.
    above : frozenset of str
        Parts off the main stream that stand above it.
    depth : dict of str to int
        Steps from the main stream, 0 on it.
    vented : frozenset of str
        Tanks with an open way to the outside through vent lines.
    order : tuple of str
        Tanks in feed order.
    """

    runs: tuple[Run, ...]
    hosts: dict[str, str] = field(default_factory=dict)
    above: frozenset[str] = frozenset()
    depth: dict[str, int] = field(default_factory=dict)
    vented: frozenset[str] = frozenset()
    order: tuple[str, ...] = ()


def kind_of(part: object) -> str:
    """Name of the symbol a part is drawn with."""
    if isinstance(part, Tank):
        return "header" if part.role == "header" else "tank"
    if isinstance(part, Valve):
        return {"shut-off": "valve", "check": "check", "electric": "electric"}[part.kind]
    kinds = {
        Tee: "tee",
        Filter: "filter",
        Pump: "pump",
        Outlet: "outlet",
        FillPort: "fill",
        Drain: "drain",
        Connector: "connector",
        Engine: "engine",
    }
    return kinds[type(part)]


def wire(layout: Layout, survey: Surveyed) -> Wiring:
    """Read a layout and its survey for drawing."""
    runs = tuple(
        _run(line, survey, number) for number, line in enumerate(layout.lines.values(), start=1)
    )
    stream = _stream(layout, runs)
    hosts, above, depth = _hang(layout, runs, stream)
    order = tuple(name for name in survey.feed_order if name in layout.tanks)
    return Wiring(runs, hosts, above, depth, _vented(layout, runs), order)


def _run(line: Line, survey: Surveyed, number: int) -> Run:
    start, end = survey.ends[line.name]
    role = survey.roles[line.name]
    length = survey.lengths.get(line.name)
    return Run(line, role, split_port(start), split_port(end), number, length)


def _stream(layout: Layout, runs: tuple[Run, ...]) -> set[str]:
    stream = set(layout.tanks) | set(layout.engines)
    for run in runs:
        if run.role in STREAM:
            stream |= {run.start[0], run.end[0]}
    return stream


def _hang(
    layout: Layout, runs: tuple[Run, ...], stream: set[str]
) -> tuple[dict[str, str], frozenset[str], dict[str, int]]:
    joined: dict[str, list[tuple[str, str]]] = {}
    for run in runs:
        joined.setdefault(run.start[0], []).append((run.end[0], run.role))
        joined.setdefault(run.end[0], []).append((run.start[0], run.role))
    order = [part.name for part in layout.parts() if part.name in stream]
    hosts: dict[str, str] = {}
    above: set[str] = set()
    depth = dict.fromkeys(order, 0)
    queue = deque(order)
    while queue:
        at = queue.popleft()
        for other, role in joined.get(at, ()):
            if other in depth:
                continue
            depth[other] = depth[at] + 1
            hosts[other] = hosts.get(at, at)
            if at in above or (at in stream and role == "vent"):
                above.add(other)
            queue.append(other)
    return hosts, frozenset(above), depth


def _vented(layout: Layout, runs: tuple[Run, ...]) -> frozenset[str]:
    open_to: dict[str, list[str]] = {}
    for run in runs:
        if run.role == "vent":
            open_to.setdefault(run.start[0], []).append(run.end[0])
            open_to.setdefault(run.end[0], []).append(run.start[0])
    seen = {name for name, outlet in layout.outlets.items() if not plugged(outlet)}
    queue = deque(seen)
    while queue:
        at = queue.popleft()
        if at in layout.tanks:
            continue  # the gas space behind a tank is reached through the tank, not the vent
        for other in open_to.get(at, ()):
            if other not in seen:
                seen.add(other)
                queue.append(other)
    return frozenset(seen & set(layout.tanks))


def plugged(outlet: Outlet) -> bool:
    """Whether an outlet's plug stays in for flight."""
    return outlet.plug is not None and outlet.plug.fitted_in_flight
