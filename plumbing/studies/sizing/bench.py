"""The bench of a sizing: the network solved as drawn, its limits, its groups of lines."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.network import Role, Survey, survey
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.simulation.peak_cases import PeakCases, peak_cases
from plumbing.simulation.peak_networks import Solved, demand_of, solved_network
from plumbing.studies.sizing.drops import Ways, line_drops, ways
from plumbing.studies.sizing.fit import mass_per_length, unfit
from plumbing.studies.sizing.limits import SizingLimits
from plumbing.studies.sizing.search import Group
from plumbing.studies.sizing.variants import tube_named, with_tubes

SIZED = (Role.SUCTION, Role.VENT)


@frozen(eq=False)
class Rows:
    """The M limited suctions.

    Attributes
    ----------
    engine : tuple of str
        Engine of each, length M.
    words : tuple of str
        When, in words, length M.
    demand, case : Indices
        Demand of the circuit and case of peak flow, shape (M,).
    limit : Array
        Suction allowed, shape (M,) [Pa].
    """

    engine: tuple[str, ...]
    words: tuple[str, ...]
    demand: Indices
    case: Indices
    limit: Array

    def suction(self, solved: Solved) -> Array:
        """Limited suctions of a solved network, shape (M,) [Pa]."""
        node = solved.feeding.plumbed.demand_node[self.demand]
        suction: Array = -solved.solution.pressure[self.case, node]
        return suction


@frozen(eq=False)
class Lines:
    """Lines that get one tube, with all tubes that could be tried.

    Attributes
    ----------
    names : tuple of str
        Lines.
    role : str
        Suction or vent.
    drawn : str
        Tube of the first as drawn.
    tubes : tuple of str
        Tubes, C of them.
    why : tuple of str
        Why a tube is ruled out; empty where it is not.
    group : Group
        Cost and drops of each tube.
    """

    names: tuple[str, ...]
    role: str
    drawn: str
    tubes: tuple[str, ...]
    why: tuple[str, ...]
    group: Group

    @property
    def fits(self) -> Flags:
        """Which tubes are not ruled out, shape (C,)."""
        return np.array([not why for why in self.why])


@frozen(eq=False)
class Bench:
    """Everything the search needs; `base` is what no tube changes, shape (M,) [Pa]."""

    rows: Rows
    base: Array
    lines: tuple[Lines, ...]
    suction: Array


def cases_of(layout: Layout) -> PeakCases:
    """Cases of peak flow of a layout."""
    return peak_cases(layout.aircraft, layout.fuel.temperature)


def limited(
    layout: Layout, found: Survey, solved: Solved, cases: PeakCases, limits: SizingLimits
) -> Rows:
    """Limited suctions of all engines that can be fed."""
    sets = (
        ("at the usual temperature", cases.where(0)[:1], limits.usual),
        ("over the temperatures", cases.where(0), limits.coldest),
        ("under load", cases.where(), limits.loaded),
        ("with dirty filters", cases.where(0, dirty=True), limits.dirty),
    )
    plumbed = solved.feeding.plumbed
    rows = [
        (name, words, demand_of(found, plumbed, name), int(case), limit)
        for name, feed in found.feeds.items()
        if feed.path is not None and layout.engines[name].full_flow
        for words, which, limit in sets
        for case in which
    ]
    return Rows(
        engine=tuple(row[0] for row in rows),
        words=tuple(row[1] for row in rows),
        demand=np.array([row[2] for row in rows], dtype=np.intp),
        case=np.array([row[3] for row in rows], dtype=np.intp),
        limit=np.array([row[4] for row in rows], float),
    )


def bench(
    layout: Layout, found: Survey, solved: Solved, limits: SizingLimits, new_joints: bool
) -> Bench:
    """Price every tube on every line that is to be sized."""
    cases = cases_of(layout)
    rows = limited(layout, found, solved, cases, limits)
    plumbed, bridges = solved.feeding.plumbed, ways(solved)
    sized = [n for n, use in found.lines.items() if use.role in SIZED and n in plumbed.line_branch]
    straight = [n for n in sized if bridges.bridge[plumbed.line_branch[n][0]]]
    tubes = tuple(dict.fromkeys([*(layout.lines[n].tube for n in sized), *layout.catalogue]))
    suction = rows.suction(solved)
    work = _Work(layout, found, solved, limits, new_joints, tubes, rows)
    own = tuple(dict.fromkeys(layout.lines[n].tube for n in straight))
    before = line_drops(layout, solved, straight, own, False)
    priced = work.priced(straight)
    lines, base = [], suction.copy()
    for k, name in enumerate(straight):
        weight = bridges.serves[rows.demand, plumbed.line_branch[name][0]]
        base -= before[k, own.index(layout.lines[name].tube), rows.case] * weight
        lines.append(work.lines((name,), priced[k][:, rows.case] * weight))
    for names in _loops(solved, bridges, [n for n in sized if n not in straight], found):
        lines.append(work.lines(names, work.solved_drops(names, suction)))
    return Bench(rows, base, tuple(lines), suction)


def _loops(
    solved: Solved, bridges: Ways, names: Sequence[str], found: Survey
) -> list[tuple[str, ...]]:
    """Lines in loops: suction lines of a loop together, each vent line for itself."""
    import networkx as nx

    circuit, branch = solved.feeding.plumbed.circuit, solved.feeding.plumbed.line_branch
    graph: nx.Graph = nx.Graph()
    for number in np.flatnonzero(~bridges.bridge):
        graph.add_edge(
            *(
                "outside" if circuit.fixed[node] else int(node)
                for node in (circuit.start[number], circuit.end[number])
            )
        )
    part = {node: k for k, nodes in enumerate(nx.connected_components(graph)) for node in nodes}
    together: dict[object, list[str]] = {}
    for name in names:
        start = int(circuit.start[branch[name][0]])
        home = part["outside" if circuit.fixed[start] else start]
        key = home if found.lines[name].role is Role.SUCTION else name
        together.setdefault(key, []).append(name)
    return [tuple(own) for own in together.values()]


@frozen(eq=False)
class _Work:
    """What pricing a group of lines needs."""

    layout: Layout
    found: Survey
    solved: Solved
    limits: SizingLimits
    new_joints: bool
    tubes: tuple[str, ...]
    rows: Rows

    def lines(self, names: tuple[str, ...], drop: Array) -> Lines:
        """A group with its masses, drops and what rules its tubes out."""
        mass = [sum(self._mass(name, tube) for name in names) for tube in self.tubes]
        return Lines(
            names=names,
            role=str(self.found.lines[names[0]].role),
            drawn=self.layout.lines[names[0]].tube,
            tubes=self.tubes,
            why=tuple(self._why(names, tube) for tube in self.tubes),
            group=Group(np.array(mass), drop),
        )

    def _mass(self, name: str, tube: str) -> float:
        length = self.found.lengths[name]
        cut = length.to_cut if length.stated is None else length.stated
        return cut * mass_per_length(tube_named(self.layout, tube))

    def _why(self, names: tuple[str, ...], name: str) -> str:
        """Why a tube is ruled out for a group, or nothing."""
        tube, plumbed = tube_named(self.layout, name), self.solved.feeding.plumbed
        for one in names:
            line, suction = self.layout.lines[one], self.found.lines[one].role is Role.SUCTION
            why = unfit(
                self.layout,
                line,
                tube,
                self.limits,
                suction=suction,
                joints=not self.new_joints,
            )
            if why:
                return why
            if suction:
                flow = np.abs(self.solved.solution.flow[:, plumbed.line_branch[one][0]])
                speed = float(flow.max()) / (0.25 * np.pi * tube.inside_diameter**2)
                if speed > self.limits.speed:
                    return f"fuel would run through it at {speed:.2g} m/s"
        return ""

    def priced(self, names: Sequence[str]) -> Array:
        """Loss of each line with each tube in every case, (L, C, S); 0 for what fits no line."""
        fit = [
            k for k, tube in enumerate(self.tubes) if any(not self._why((n,), tube) for n in names)
        ]
        drop = np.zeros((len(names), len(self.tubes), len(self.solved.solution.flow)))
        tubes = [self.tubes[k] for k in fit]
        drop[:, fit] = line_drops(self.layout, self.solved, names, tubes, self.new_joints)
        return drop

    def solved_drops(self, names: tuple[str, ...], suction: Array) -> Array:
        """What each tube changes in the suctions where flow divides by the bores, (C, M) [Pa]."""
        drop = np.zeros((len(self.tubes), len(suction)))
        if self.found.lines[names[0]].role is Role.VENT:
            return drop  # air costs next to nothing; the choice is solved anew in the end
        known: dict[tuple[float | None, ...], Array] = {}
        for k, name in enumerate(self.tubes):
            if self._why(names, name):
                continue
            tube = tube_named(self.layout, name)
            alike = (tube.inside_diameter, tube.roughness, tube.bend_radius)
            if alike not in known:
                other = with_tubes(self.layout, dict.fromkeys(names, name), self.new_joints)
                again = solved_network(other, survey(other), cases_of(other))
                known[alike] = self.rows.suction(again) - suction
            drop[k] = known[alike]
        return drop
