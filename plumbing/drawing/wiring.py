"""The layout read for drawing: which way lines flow, what is on the main stream, what hangs off.

The main stream runs from left to right: tanks, what lies between them, and the engine. Vent
parts stand above the tank they serve, fill and drain parts below what they join.
"""

from collections import deque
from dataclasses import field, replace

from plumbing.frozen import frozen
from plumbing.model.engine import Engine
from plumbing.model.layout import Layout, split_port
from plumbing.model.line import Line
from plumbing.model.parts import Connector, Drain, FillPort, Filter, Outlet, Pump, Tee, Valve
from plumbing.model.tank import Tank
from plumbing.network import Flow, Survey

STREAM = ("suction", "pressure")


@frozen
class Run:
    """A line as drawn.

    Attributes
    ----------
    line : Line
        The line.
    role : str
        suction, pressure, vent, fill, drain, return, balance or loose.
    start, end : tuple of str
        Part and port, in the direction of flow.
    number : int
        Its number on the drawing, from 1.
    length : float
        Length, as cut or else as routed [m].
    flow : Flow
        Whether the direction is known; along the line as written.
    """

    line: Line
    role: str
    start: tuple[str, str]
    end: tuple[str, str]
    number: int
    length: float
    flow: Flow


@frozen
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
        Tanks that breathe without passing another tank.
    turns : dict of str to int
        Turn of each tank in the feed order of its own system, from 1.
    stranded : frozenset of str
        Tanks whose fuel stays.
    """

    runs: tuple[Run, ...]
    hosts: dict[str, str] = field(default_factory=dict)
    above: frozenset[str] = frozenset()
    depth: dict[str, int] = field(default_factory=dict)
    vented: frozenset[str] = frozenset()
    turns: dict[str, int] = field(default_factory=dict)
    stranded: frozenset[str] = frozenset()


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


def wire(layout: Layout, survey: Survey) -> Wiring:
    """Read a layout and its survey for drawing."""
    runs = _behind_valves(
        layout,
        [_run(line, survey, number) for number, line in enumerate(layout.lines.values(), start=1)],
    )
    stream = _stream(layout, runs)
    hosts, above, depth = _hang(layout, runs, stream)
    turns = {
        tank: turn
        for system in survey.order.systems
        for turn, group in enumerate(system, start=1)
        for tank in group.tanks
    }
    stays = frozenset(
        tank for group in survey.order.groups if group.stranded for tank in group.tanks
    )
    return Wiring(runs, hosts, above, depth, frozenset(survey.vented), turns, stays)


def _run(line: Line, survey: Survey, number: int) -> Run:
    use = survey.lines[line.name]
    start, end = split_port(use.upstream), split_port(use.downstream)
    return Run(line, str(use.role), start, end, number, use.length, use.flow)


def _behind_valves(layout: Layout, runs: list[Run]) -> tuple[Run, ...]:
    """Give lines that are shut off in flight the role of the opening they lead to.

    A fill line behind a valve that is closed in flight leads nowhere then, but is drawn as the
    fill line it is.
    """
    for section, role in (("fill_ports", "fill"), ("drains", "drain"), ("outlets", "vent")):
        inward = role != "drain"
        edge = set(getattr(layout, section))
        while edge:
            beyond: set[str] = set()
            for place, run in enumerate(runs):
                ends = run.start, run.end
                near = next((end for end in ends if end[0] in edge), None)
                if run.role != "loose" or near is None:
                    continue
                far = ends[1] if near is ends[0] else ends[0]
                start, end = (near, far) if inward else (far, near)
                flow = Flow.FORWARD
                runs[place] = replace(run, role=role, start=start, end=end, flow=flow)
                if far[0] not in layout.tanks:
                    beyond.add(far[0])
            edge = beyond
    return tuple(runs)


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


def plugged(outlet: Outlet) -> bool:
    """Whether an outlet's plug stays in for flight."""
    return outlet.plug is not None and outlet.plug.fitted_in_flight
