"""The suction path that costs most, and what single parts cost."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from plumbing.findings import Figure
from plumbing.frozen import frozen
from plumbing.hydraulics.breakdown import Breakdown
from plumbing.hydraulics.layout_circuit import Plumbed
from plumbing.hydraulics.solver import Solution
from plumbing.model.layout import Layout
from plumbing.physics.arrays import Array, Indices
from plumbing.simulation.peak_result import ElementDrop

_LIQUID = 0.5  # a branch that carries less liquid than this belongs to a vent


@frozen(eq=False)
class Path:
    """Elements from a tank to a pump, in flow order.

    Attributes
    ----------
    plumbed : Plumbed
        The circuit.
    element : Indices
        Places of the elements in the circuit.
    flow : Array
        Flow in each, shape of `element` [m3/s].
    """

    plumbed: Plumbed
    element: Indices
    flow: Array

    def elements(
        self,
        drawn: Breakdown,
        bands: tuple[Breakdown, Breakdown],
        case: int,
        worst: tuple[int, ...] = (),
    ) -> tuple[ElementDrop, ...]:
        """Drops of the elements in one case and in worse ones; a joint's parts together."""
        size = np.abs(drawn.drop[case, self.element])
        total = max(float(size.sum()), 1e-12)
        kind, unkind = (np.abs(band.drop[case, self.element]) for band in bands)
        groups = _by_tag(self.plumbed, self.element)
        more = [np.abs(drawn.drop[other, self.element]) for other in worst]
        return tuple(
            replace(
                self._drop(drawn, case, group, size, (kind, unkind), total),
                worst=tuple(float(each[group].sum()) for each in more),
            )
            for group in groups
        )

    def _drop(
        self,
        drawn: Breakdown,
        case: int,
        group: Indices,
        size: Array,
        bands: tuple[Array, Array],
        total: float,
    ) -> ElementDrop:
        element = self.element[group]
        narrow = group[np.argmax(drawn.velocity[case, element])]
        place = self.element[narrow]
        tag = self.plumbed.tags[place]
        value = float(size[group].sum())
        low, high = (float(band[group].sum()) for band in bands)
        velocity = float(np.abs(drawn.velocity[case, place]))
        flow = float(np.abs(self.flow[narrow]))
        return ElementDrop(
            line=tag.line,
            part=tag.part,
            what=tag.what,
            bore=float(np.sqrt(4.0 * flow / (np.pi * velocity))) if velocity > 0.0 else 0.0,
            flow=flow,
            velocity=velocity,
            reynolds=float(drawn.reynolds[case, place]),
            drop=Figure(value, "pressure", min(low, value), max(high, value)),
            share=value / total,
        )


def _by_tag(plumbed: Plumbed, element: Indices) -> list[Indices]:
    """Neighbouring elements of one joint together."""
    groups: list[list[int]] = []
    for number, place in enumerate(element):
        if groups and plumbed.tags[place] == plumbed.tags[element[groups[-1][-1]]]:
            groups[-1].append(number)
        else:
            groups.append([number])
    return [np.array(group, dtype=np.intp) for group in groups]


def suction_path(
    plumbed: Plumbed, solution: Solution, parts: Breakdown, case: int, demand: int
) -> Path:
    """Path to a demand along which most is lost, followed upstream through liquid branches."""
    circuit = plumbed.circuit
    flow, share = solution.flow[case], solution.share[case]
    lost = np.bincount(
        circuit.element_branch, np.abs(parts.drop[case]), minlength=len(circuit.branches)
    )
    source = np.where(flow >= 0.0, circuit.start, circuit.end)
    target = np.where(flow >= 0.0, circuit.end, circuit.start)
    liquid = (share > _LIQUID) & (np.abs(flow) > 1e-6 * np.abs(flow).max())
    taken = _costliest(source, target, np.where(liquid, lost, -1.0), plumbed.demand_node[demand])
    none = np.zeros(0, dtype=np.intp)
    element = np.concatenate([none, *(_in_flow_order(plumbed, one, flow) for one in taken)])
    owner = circuit.element_branch[element]
    return Path(plumbed, element, flow[owner])


def _costliest(source: Indices, target: Indices, lost: Array, node: int) -> list[int]:
    """Branches of the costliest way to a node, upstream end first; lost < 0 bars a branch."""
    best: dict[int, tuple[float, list[int]]] = {}

    def into(here: int, passed: frozenset[int]) -> tuple[float, list[int]]:
        if here in best:
            return best[here]
        found: tuple[float, list[int]] = (0.0, [])
        for branch in np.flatnonzero((target == here) & (lost >= 0.0)):
            beyond = int(source[branch])
            if beyond in passed:
                continue
            cost, way = into(beyond, passed | {here})
            if cost + lost[branch] > found[0] or not found[1]:
                found = (cost + float(lost[branch]), [*way, int(branch)])
        best[here] = found
        return found

    return into(int(node), frozenset())[1]


def _in_flow_order(plumbed: Plumbed, branch: int, flow: Array) -> Indices:
    element = np.flatnonzero(plumbed.circuit.element_branch == branch)
    return element if flow[branch] >= 0.0 else element[::-1]


def drops_of_parts(
    layout: Layout, plumbed: Plumbed, parts: Breakdown, clean: int, dirty: int
) -> tuple[Mapping[str, tuple[float, float | None]], Mapping[str, tuple[float, float | None]]]:
    """Drop of each pickup (`tank.port`) and filter at full flow, clean and dirty [Pa]."""
    pickups: dict[str, tuple[float, float | None]] = {}
    filters: dict[str, tuple[float, float | None]] = {}
    for number, place in enumerate(plumbed.circuit.filters.element):
        name = plumbed.tags[place].part
        pair = tuple(abs(float(parts.drop[case, place])) for case in (clean, dirty))
        stated = plumbed.dirty[number] > 1.0
        into = filters if name in layout.filters else pickups
        into[name] = (pair[0], pair[1] if stated else None)
    return pickups, filters
