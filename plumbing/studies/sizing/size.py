"""Sizing: the tube of every suction and vent line at once, and what a size less would do."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal

import numpy as np

from plumbing.errors import SolveError
from plumbing.model.layout import Layout
from plumbing.network import Survey, survey
from plumbing.physics.arrays import Array
from plumbing.simulation.peak_networks import Solved, solved_network
from plumbing.studies.sizing.bench import Bench, Lines, bench, cases_of, limited
from plumbing.studies.sizing.limits import SizingLimits
from plumbing.studies.sizing.result import Choice, Point, Sizing
from plumbing.studies.sizing.search import Group, cheapest, fewest
from plumbing.studies.sizing.variants import tube_named, with_tubes
from plumbing.units import show

_STEPS = 12  # points of the trade-off
_NONE = "no smaller size in the catalogue"


def size(
    layout: Layout,
    found: Survey,
    limits: SizingLimits | None = None,
    prefer: Literal["light", "few"] = "light",
    *,
    new_joints: bool = False,
) -> Sizing:
    """Choose the tube of every suction and vent line at once.

    The suction at a pump is the sum of what each line costs, where the flow in each follows from
    the pumps alone; so all tubes are priced on all lines in one batch, and the choice is made by
    an exact search. Lines between which flow divides by their bores get one tube together, and
    are solved for each. What was chosen is solved anew.

    Parameters
    ----------
    layout, found
        The layout and its survey.
    limits : SizingLimits, optional
        What to keep.
    prefer : {"light", "few"}
        Least mass, or the fewest different tubes and then the least mass.
    new_joints : bool
        Whether joints are bought with the tubes; else they stay as drawn.
    """
    limits = limits or SizingLimits()
    try:
        solved = solved_network(layout, found, cases_of(layout))
        why = _unsolved(found, solved)
    except SolveError as wrong:
        why = str(wrong)
    if why:
        return _nothing(layout, {}, 0.0, (why,), new_joints)
    desk = bench(layout, found, solved, limits, new_joints)
    if not desk.lines:
        return _nothing(layout, {}, 0.0, ("no suction or vent line to size",), new_joints)
    used = _used(desk, desk.suction)
    before = sum(_cost_of(lines, lines.drawn) for lines in desk.lines)
    fitting = [_fitting(lines) for lines in desk.lines]
    places = _chosen(desk, fitting, prefer)
    if places is None:
        return _nothing(layout, used, before, _blocked(desk, fitting), new_joints)
    tubes = [one.tubes[place] for one, place in zip(desk.lines, places, strict=True)]
    changed = with_tubes(layout, _by_line(desk, tubes), new_joints)
    return Sizing(
        layout=changed,
        choices=tuple(_choice(layout, desk, places, k) for k in range(len(desk.lines))),
        before=used,
        after=_solved_anew(changed, limits),
        mass_before=before,
        mass_after=sum(
            float(one.group.cost[place]) for one, place in zip(desk.lines, places, strict=True)
        ),
        curve=_curve(desk, fitting),
        blocked=(),
        new_joints=new_joints,
    )


def _nothing(
    layout: Layout, used: Mapping[str, float], mass: float, why: tuple[str, ...], joints: bool
) -> Sizing:
    return Sizing(layout, (), used, used, mass, mass, (), why, joints)


def _unsolved(found: Survey, solved: Solved) -> str:
    for name, feed in found.feeds.items():
        if feed.path is None:
            return f"no fuel can reach {name}"
        if not solved.solution.converged[0]:
            return solved.solution.why(0)
    return ""


def _fitting(lines: Lines) -> Group:
    """The candidates of a group; what is ruled out costs more than anything."""
    cost = np.where(lines.fits, lines.group.cost, np.inf)
    return Group(cost[lines.fits], lines.group.drop[lines.fits])


def _chosen(
    desk: Bench, groups: Sequence[Group], prefer: str, margin: float = 0.0
) -> tuple[int, ...] | None:
    """Place of the tube chosen for each group among all its tubes."""
    room = desk.rows.limit * (1.0 - margin) - desk.base
    if prefer == "few":
        names = [[t for t, ok in zip(x.tubes, x.fits, strict=True) if ok] for x in desk.lines]
        found = fewest(groups, room, names)
    else:
        found = cheapest(groups, room)
    if found is None:
        return None
    return tuple(
        int(np.flatnonzero(lines.fits)[place])
        for lines, place in zip(desk.lines, found, strict=True)
    )


def _cost_of(lines: Lines, tube: str) -> float:
    return float(lines.group.cost[lines.tubes.index(tube)])


def _by_line(desk: Bench, tubes: Sequence[str]) -> dict[str, str]:
    return {
        name: tube for lines, tube in zip(desk.lines, tubes, strict=True) for name in lines.names
    }


def _used(desk: Bench, suction: Array) -> dict[str, float]:
    """Worst share of a limit each engine uses [-]."""
    used: dict[str, float] = {}
    for engine, share in zip(desk.rows.engine, suction / desk.rows.limit, strict=True):
        used[engine] = max(used.get(engine, -np.inf), float(share))
    return used


def _solved_anew(layout: Layout, limits: SizingLimits) -> dict[str, float]:
    """Worst share of a limit each engine uses, by a new solve of the layout."""
    found, cases = survey(layout), cases_of(layout)
    solved = solved_network(layout, found, cases)
    rows = limited(layout, found, solved, cases, limits)
    used: dict[str, float] = {}
    for engine, share in zip(rows.engine, rows.suction(solved) / rows.limit, strict=True):
        used[engine] = max(used.get(engine, -np.inf), float(share))
    return used


def _blocked(desk: Bench, groups: Sequence[Group]) -> tuple[str, ...]:
    """Why no choice keeps everything."""
    said = []
    for lines in desk.lines:
        if not lines.fits.any():
            wide = max(range(len(lines.tubes)), key=lambda k: lines.tubes[k] == lines.drawn)
            said.append(
                f"no tube fits {', '.join(lines.names)}; {lines.tubes[wide]}: {lines.why[wide]}"
            )
    if said:
        return tuple(said)
    least = desk.base + sum(group.drop.min(axis=0) for group in groups)
    worst = int(np.argmax(least / desk.rows.limit))
    return (
        f"even the widest tubes that fit leave {show(float(least[worst]), 'pressure')} at "
        f"{desk.rows.engine[worst]} {desk.rows.words[worst]}, over the "
        f"{show(float(desk.rows.limit[worst]), 'pressure')} allowed: joints, filters, pickups "
        "and height take the rest",
    )


def _choice(layout: Layout, desk: Bench, places: Sequence[int], k: int) -> Choice:
    lines, place = desk.lines[k], places[k]
    smaller = _next_smaller(layout, lines, place)
    return Choice(
        lines=lines.names,
        role=lines.role,
        before=lines.drawn,
        tube=lines.tubes[place],
        mass=float(lines.group.cost[place]),
        smaller="" if smaller is None else lines.tubes[smaller],
        why=_NONE if smaller is None else _why_not(desk, places, k, smaller),
    )


def _next_smaller(layout: Layout, lines: Lines, place: int) -> int | None:
    """The next narrower bore, of the same material where there is one."""
    chosen = tube_named(layout, lines.tubes[place])

    def rank(k: int) -> tuple[bool, float, float]:
        other = tube_named(layout, lines.tubes[k])
        return other.material == chosen.material, other.inside_diameter, -lines.group.cost[k]

    narrower = [
        k
        for k, name in enumerate(lines.tubes)
        if tube_named(layout, name).inside_diameter < chosen.inside_diameter - 1e-9
    ]
    return max(narrower, key=rank, default=None)


def _why_not(desk: Bench, places: Sequence[int], k: int, smaller: int) -> str:
    """Why the next size down is not chosen, the other lines as chosen."""
    lines = desk.lines[k]
    if lines.why[smaller]:
        return lines.why[smaller]
    drops = [
        one.group.drop[smaller if number == k else places[number]]
        for number, one in enumerate(desk.lines)
    ]
    suction = desk.base + np.sum(drops, axis=0)
    worst = int(np.argmax(suction / desk.rows.limit))
    if suction[worst] > desk.rows.limit[worst]:
        return (
            f"suction at {desk.rows.engine[worst]} would be "
            f"{show(float(suction[worst]), 'pressure')} {desk.rows.words[worst]}, over "
            f"{show(float(desk.rows.limit[worst]), 'pressure')}"
        )
    more = float(lines.group.cost[smaller] - lines.group.cost[places[k]])
    if more > 0.0:
        return f"it would do, but weighs {show(more, 'mass')} more"
    return "it would do, but is one more kind of tube"


def _curve(desk: Bench, groups: Sequence[Group]) -> tuple[Point, ...]:
    """Lightest choice at rising margins, up to the largest that can be had."""
    least = desk.base + sum(group.drop.min(axis=0) for group in groups)
    largest = 1.0 - float((least / desk.rows.limit).max())
    points: list[Point] = []
    for margin in np.linspace(0.0, max(largest, 0.0), _STEPS):
        places = _chosen(desk, groups, "light", float(margin) - 1e-9)
        if places is None:
            continue
        tubes = tuple(one.tubes[place] for one, place in zip(desk.lines, places, strict=True))
        if points and points[-1].tubes == tubes:
            continue
        drops = [x.group.drop[place] for x, place in zip(desk.lines, places, strict=True)]
        suction = desk.base + np.sum(drops, axis=0)
        mass = sum(float(x.group.cost[p]) for x, p in zip(desk.lines, places, strict=True))
        points.append(Point(1.0 - float((suction / desk.rows.limit).max()), mass, tubes))
    return tuple(points)
