"""Remedies by the way of air: cap a second vent, chain teed tanks, a loop in the vent."""

from collections.abc import Iterator
from dataclasses import replace

from plumbing.geometry.route import room
from plumbing.model.fields import Vector
from plumbing.model.layout import Layout, split_port
from plumbing.model.line import Line
from plumbing.model.meshes import tank_mesh
from plumbing.network import Role, Survey
from plumbing.network.lengths import route_points
from plumbing.simulation.computed import Computed
from plumbing.studies.remedies.flow import TEED
from plumbing.studies.remedies.parts import cut_of
from plumbing.studies.remedies.proposal import Proposal
from plumbing.units import show

_OVER = 0.015  # straight tube on a port before it bends [m]
_LOOP = 0.035  # of a vent above its tank [m]; common practice asks for 30 mm


def cap_second_vent(case: Computed) -> Iterator[Proposal]:
    """The vent that lets air into a tank before those behind it, taken out and its port capped."""
    layout, found = case.layout, case.survey
    for vent in found.second_vents:
        ports = {
            f"{vent.tank}.{name}"
            for name, port in layout.tanks[vent.tank].ports.items()
            if port.pickup is None and not port.capped
        }
        lines = [
            line.name
            for line in layout.lines.values()
            if found.lines[line.name].role is Role.VENT and ports & {line.from_, line.to}
        ]
        bare = {split_port(name)[1] for name in vent.openings if split_port(name)[0] == vent.tank}
        if not lines and not bare:
            continue
        changed = _without(layout, lines)
        capped = bare | {
            split_port(end)[1]
            for name in lines
            for end in (layout.lines[name].from_, layout.lines[name].to)
            if split_port(end)[0] == vent.tank
        }
        yield Proposal(
            change=f"cap {vent.tank}.{', '.join(sorted(capped))}"
            + (f" and take out {', '.join(lines)}" if lines else ""),
            costs=f"{'a cap' if len(capped) == 1 else f'{len(capped)} caps'}; {vent.tank} then "
            f"breathes through {vent.behind[0]}",
            layout=_with_caps(changed, vent.tank, capped),
            aims=frozenset({"second-open-vent", "header-vented"}) | TEED,
        )


def _with_caps(layout: Layout, tank: str, ports: set[str]) -> Layout:
    own = layout.tanks[tank]
    changed = {
        name: replace(port, capped=port.capped or name in ports) for name, port in own.ports.items()
    }
    return replace(layout, tanks={**layout.tanks, tank: replace(own, ports=changed)})


def _without(layout: Layout, names: list[str]) -> Layout:
    """The layout without some lines, and without outlets that nothing else joins."""
    lines = {name: line for name, line in layout.lines.items() if name not in names}
    joined = {split_port(end)[0] for line in lines.values() for end in (line.from_, line.to)}
    outlets = {name: one for name, one in layout.outlets.items() if name in joined}
    return replace(layout, lines=lines, outlets=outlets)


def chain_teed(case: Computed) -> Iterator[Proposal]:
    """Two teed tanks put in series: the first gives into the vent port of the second."""
    layout, found = case.layout, case.survey
    for teed in found.teed:
        if len(teed.tanks) != 2:
            continue
        for far, near in (teed.tanks, teed.tanks[::-1]):
            made = _chained(
                layout, found, far, near, dict(zip(teed.tanks, teed.ports, strict=True))
            )
            if made is not None:
                yield Proposal(
                    change=f"{far} and {near} in series: {far} gives into the vent port of {near}",
                    costs=f"one line re-routed, the vent of {near} taken out; the order is then "
                    f"{far}, {near}",
                    layout=made,
                    aims=TEED,
                )


def _chained(
    layout: Layout, found: Survey, far: str, near: str, ports: dict[str, str]
) -> Layout | None:
    """The feed branch of the far tank led to the near one's vent port."""
    feeds = [x for x in layout.lines.values() if ports[far] in (x.from_, x.to)]
    vents = [
        (x, end)
        for x in layout.lines.values()
        if found.lines[x.name].role is Role.VENT
        for end in (x.from_, x.to)
        if split_port(end)[0] == near
    ]
    if len(feeds) != 1 or len(vents) != 1:
        return None
    feed, (vent, port) = feeds[0], vents[0]
    link: Line = replace(feed, from_=ports[far], to=port, through=())
    bend = layout.tube_of(link).bend_radius if link.bend_radius is None else link.bend_radius
    tops = (tank_mesh(layout.tanks[name]).bounds[1][2] for name in (far, near))
    height = float(max(tops)) + (bend or 0.0) + _OVER
    (x, y, _), (u, v, _) = (
        layout.tanks[name].ports[split_port(end)[1]].at
        for name, end in ((far, link.from_), (near, link.to))
    )
    link = replace(link, route=((x, y, height), (u, v, height)), cut_length=None)
    changed = replace(layout, lines={**layout.lines, feed.name: link})
    link = replace(link, cut_length=cut_of(changed, link))
    changed = replace(layout, lines={**layout.lines, feed.name: link})
    order = (far, near, *(name for name in layout.feed_order if name not in (far, near)))
    changed = without_idle_tees(_without(changed, [vent.name]))
    return replace(changed, feed_order=order if layout.feed_order else ())


def without_idle_tees(layout: Layout) -> Layout:
    """The layout with tees that join two lines only taken out, the two made one."""
    for name in layout.tees:
        ended = [
            line
            for line in layout.lines.values()
            if name in (split_port(line.from_)[0], split_port(line.to)[0])
        ]
        if len(ended) == 2:
            layout = _joined(layout, name, ended[0], ended[1])
    return layout


def _joined(layout: Layout, tee: str, one: Line, other: Line) -> Layout:
    """Two lines made one through the place of a tee, of the first one's tube."""
    first = one if split_port(one.to)[0] == tee else written_back(one)
    second = other if split_port(other.from_)[0] == tee else written_back(other)
    made = replace(
        first,
        to=second.to,
        to_joint=second.to_joint or second.joint,
        through=(*first.through, *second.through),
        fittings=(*first.fittings, *second.fittings),
        cut_length=None,
    )
    lines = {name: line for name, line in layout.lines.items() if name != other.name}
    tees = {name: one_tee for name, one_tee in layout.tees.items() if name != tee}
    ways = _ways_past(first.route, layout.tees[tee].at, second.route)
    drawn = [
        replace(layout, lines={**lines, one.name: replace(made, route=way)}, tees=tees)
        for way in (ways[:1] if made.through else ways)
    ]
    fits = (each for each in drawn if _has_room(each, each.lines[one.name]))
    chosen = next(fits, drawn[0])
    if one.cut_length is None or other.cut_length is None:
        return chosen
    joined = chosen.lines[one.name]
    cut = replace(joined, cut_length=cut_of(chosen, joined))
    return replace(chosen, lines={**chosen.lines, one.name: cut})


def _ways_past(
    before: tuple[Vector, ...], tee: Vector, after: tuple[Vector, ...]
) -> list[tuple[Vector, ...]]:
    """Corners past the place of a tee, then with fewer and fewer of those beside it."""
    left = [(len(before) - i, j) for i in range(len(before) + 1) for j in range(len(after) + 1)]
    left.sort(key=lambda one: len(before) - one[0] + one[1])
    return [(*before, tee, *after), *((*before[:i], *after[j:]) for i, j in left)]


def _has_room(layout: Layout, line: Line) -> bool:
    """Whether its legs leave room for its bends."""
    bend = layout.tube_of(line).bend_radius if line.bend_radius is None else line.bend_radius
    return not line.route or bend is None or bool(room(route_points(layout, line), bend).min() >= 0)


def written_back(line: Line) -> Line:
    """The same line written from its other end."""
    return replace(
        line,
        from_=line.to,
        to=line.from_,
        from_joint=line.to_joint,
        to_joint=line.from_joint,
        route=line.route[::-1],
        through=line.through[::-1],
        fittings=line.fittings[::-1],
    )


def vent_loop(case: Computed) -> Iterator[Proposal]:
    """Vents led above their tanks before they go down to the outlet."""
    layout, found = case.layout, case.survey
    changed: dict[str, Line] = {}
    for use in found.of_role(Role.VENT):
        line = layout.lines[use.line]
        names = [split_port(end)[0] for end in (line.from_, line.to)]
        tops = [tank_mesh(layout.tanks[n]).bounds[1][2] for n in names if n in layout.tanks]
        if not tops or not any(n in layout.outlets for n in names):
            continue
        height = float(max(tops)) + _LOOP
        points = route_points(layout, line)
        if max(point[2] for point in points) >= height - 0.005:
            continue
        first, last = points[0], points[-1]
        route = ((first[0], first[1], height), (last[0], last[1], height))
        changed[line.name] = replace(line, route=route, cut_length=None)
    if not changed:
        return
    yield Proposal(
        change=f"a loop {show(_LOOP, 'length')} above the tank in {', '.join(changed)}",
        costs="a longer vent, and room above the tank",
        layout=replace(layout, lines={**layout.lines, **changed}),
        aims=frozenset({"no-loop-in-vent", "outlet-below-fuel", "low-point-in-vent"}),
    )
