"""From the surveyed layout to a circuit: two-port runs become branches, once, for many solves."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from plumbing.hydraulics.assemble import assemble
from plumbing.hydraulics.layout_circuit import FittingRow, Plumbed, Row, Run, Tag, backwards
from plumbing.hydraulics.line_elements import Reference, line_rows, part_rows
from plumbing.hydraulics.losses import USUAL_BORE
from plumbing.model.layout import Layout
from plumbing.model.parts import Valve
from plumbing.network import Survey
from plumbing.network.build import Beside, Join, Network
from plumbing.network.roles import Barrier, PartKind

_ENDS = (PartKind.PUMP, PartKind.ENGINE, PartKind.OUTLET, PartKind.FILL_PORT, PartKind.DRAIN)


def compile_suction(
    layout: Layout,
    survey: Survey,
    reference: Reference,
    *,
    filling: bool = False,
    joints: frozenset[str] = frozenset(),
) -> Plumbed | None:
    """Circuit of everything that hangs together with a tank: suction side, vents, overflow.

    A line from a tank back to the same tank joins its pockets; the port where it leaves is a node.

    Parameters
    ----------
    layout : Layout
        The layout.
    survey : Survey
        Its survey.
    reference : Reference
        Stated-drop reference and bore offset.
    filling : bool
        Whether closed fill ports and drains are kept, as nodes at which fuel can be pushed in.
    joints : frozenset of str
        Ports that are to be nodes though nothing divides there.

    Returns
    -------
    Plumbed or None
        None if no branch joins any tank to anything.
    """
    return _compiled(
        layout, survey, reference, filling, "", lambda ns: _has_tank(survey, ns), joints
    )


def compile_delivery(
    layout: Layout, survey: Survey, reference: Reference, pump: str
) -> Plumbed | None:
    """Circuit from one pump's outlet to its engines, if it hangs together with no tank.

    The outlet is the node whose pressure is given; the engines draw their flow.
    """
    outlet = f"{pump}.out"

    def wanted(nodes: set[str]) -> bool:
        return outlet in nodes and not _has_tank(survey, nodes)

    return _compiled(layout, survey, reference, False, outlet, wanted)


def _has_tank(survey: Survey, nodes: set[str]) -> bool:
    return any(survey.network.is_tank(node) for node in nodes)


def _compiled(
    layout: Layout,
    survey: Survey,
    reference: Reference,
    filling: bool,
    source: str,
    wanted: Callable[[set[str]], bool],
    joints: frozenset[str] = frozenset(),
) -> Plumbed | None:
    web = _web(survey, filling)
    nodes = {node for group in _groups(web) if wanted(group) for node in group}

    def between(joints: frozenset[str]) -> tuple[list[str], list[Run]]:
        stations = [
            name
            for name in web
            if name in nodes and (name in joints or _is_station(survey.network, name, web))
        ]
        return stations, list(_runs(layout, survey, reference, web, stations))

    stations, runs = between(joints)
    cross = {run.first for run in runs if run.start == run.end and _has_tank(survey, {run.start})}
    if cross:
        stations, runs = between(joints | cross)
    runs = [run for run in runs if run.start != run.end]
    if not runs:
        return None
    return assemble(layout, survey, stations, runs, filling, source)


def _web(survey: Survey, filling: bool) -> dict[str, list[Beside]]:
    """Neighbours of every node that fuel or air can pass to, dead ends pruned away."""
    network = survey.network
    closed = {one.node for one in survey.openings if not one.is_open}
    web = {
        name: [step for step in steps if _leads(network.joins[step.join])]
        for name, steps in network.beside.items()
    }
    kept = {one.node for one in survey.openings if one.is_open}
    kept |= {name for name, node in network.nodes.items() if _lasting(network, name, node.kind)}
    if filling:
        kept |= closed & {n for n, node in network.nodes.items() if node.kind in _ENDS}
    loose = [name for name, steps in web.items() if len(steps) <= 1 and name not in kept]
    while loose:
        name = loose.pop()
        for step in web.pop(name, ()):
            beside = [s for s in web.get(step.node, ()) if s.node != name or s.join != step.join]
            if step.node in web:
                web[step.node] = beside
                if len(beside) <= 1 and step.node not in kept:
                    loose.append(step.node)
    return web


def _leads(join: Join) -> bool:
    return join.barrier not in (Barrier.PUMP, Barrier.CAP)


def _lasting(network: Network, name: str, kind: PartKind) -> bool:
    return network.is_tank(name) or kind in (PartKind.PUMP, PartKind.ENGINE)


def _groups(web: dict[str, list[Beside]]) -> Iterator[set[str]]:
    """Nodes that hang together."""
    left = dict.fromkeys(web)
    while left:
        todo = [next(iter(left))]
        group: set[str] = set()
        while todo:
            name = todo.pop()
            if name in group:
                continue
            group.add(name)
            left.pop(name, None)
            todo += [step.node for step in web[name] if step.node not in group]
        yield group


def _is_station(network: Network, name: str, web: dict[str, list[Beside]]) -> bool:
    """Where flow divides, is stored, enters or leaves."""
    return network.is_tank(name) or len(web[name]) != 2


def _runs(
    layout: Layout,
    survey: Survey,
    reference: Reference,
    web: dict[str, list[Beside]],
    stations: list[str],
) -> Iterator[Run]:
    """Walk from every station along every way to the next station, each run once."""
    walked: set[int] = set()
    ends = set(stations)
    for station in stations:
        for step in web[station]:
            if step.join in walked:
                continue
            run = Run(start=station, first=step.node)
            before, here = station, step
            while True:
                walked.add(here.join)
                _lay(layout, survey, reference, run, here)
                if here.node in ends:
                    break
                before, here = here.node, _onwards(web[here.node], here.join)
            run.end, run.last = here.node, before
            run.rows = run.rows or [_hole(run, reference)]
            yield run


def _hole(run: Run, reference: Reference) -> Row:
    """An open port without a line and a stated bore: nothing passes a hole without any loss."""
    tag = Tag("", run.last, f"hole at {run.last}")
    return FittingRow(tag, reference.bore(USUAL_BORE), 160.0, 0.5, 1.0)


def _onwards(steps: list[Beside], arrived: int) -> Beside:
    return steps[0] if steps[0].join != arrived else steps[1]


def _lay(layout: Layout, survey: Survey, reference: Reference, run: Run, step: Beside) -> None:
    """Add the elements of one join to a run."""
    join = survey.network.joins[step.join]
    if join.kind == "line":
        line = layout.lines[join.name]
        rows = line_rows(layout, line, join.length, reference)
        run.lines[join.name] = step.forward
    else:
        part = layout.part(join.name)
        port = survey.network.nodes[join.start].port
        flow = full_flow_through(layout, survey, join.name) or reference.flow
        rows = part_rows(part, port, replace(reference, flow=flow), layout.joints)
        if isinstance(part, Valve):
            run.valves[join.name] = step.forward
    run.rows += rows if step.forward else backwards(rows)


def full_flow_through(layout: Layout, survey: Survey, part: str) -> float:
    """Full flow of the engines fed through a part [m3/s].

    A part on no engine's way from its nearest tank (such as the pickup of a far tank) passes the
    flow of all engines that lines join it to.

    Parameters
    ----------
    layout, survey
        The layout and its survey.
    part : str
        Filter, tank or other part.
    """
    on_way = [
        name
        for name, feed in survey.feeds.items()
        if feed.path is not None and part in feed.path.path.parts
    ]
    joined = [island.engines for island in survey.islands if part in island.parts]
    engines = on_way or [name for group in joined for name in group]
    return sum(layout.engines[name].full_flow or 0.0 for name in engines)
