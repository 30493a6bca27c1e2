"""Runs between stations to the arrays of a circuit and its ties to the layout."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields
from typing import Any

import numpy as np

from plumbing.hydraulics.circuit import BoreChanges, Circuit, Filters, Fittings, Tubes
from plumbing.hydraulics.layout_circuit import (
    NO_TANK,
    ChangeRow,
    FilterRow,
    FittingRow,
    Plumbed,
    Row,
    Run,
    TubeRow,
)
from plumbing.model.layout import Layout
from plumbing.model.parts import Valve
from plumbing.network import Survey
from plumbing.network.roles import PartKind
from plumbing.physics.arrays import Array, Flags, Indices

_OTHER_WAY = {True: 0, False: 1}


def assemble(
    layout: Layout,
    survey: Survey,
    stations: Sequence[str],
    runs: Sequence[Run],
    filling: bool,
    source: str = "",
) -> Plumbed:
    """Put runs together to a circuit.

    Parameters
    ----------
    layout, survey
        What they were found in.
    stations : sequence of str
        Nodes between runs.
    runs : sequence of Run
        Runs.
    filling : bool
        Whether closed openings are kept as nodes.
    source : str
        Node whose pressure is given besides the open openings: a pump's outlet.
    """
    met = {name for run in runs for name in (run.start, run.end)}
    nodes = [name for name in stations if name in met]
    place = {name: number for number, name in enumerate(nodes)}
    open_ends = [one.node for one in survey.openings if one.is_open and one.node in place]
    circuit, rows = _circuit(survey, nodes, runs, {*open_ends, source})
    tanks = tuple(layout.tanks)
    drawn = [name for name in nodes if _draws(survey, name)]
    pushed = [name for name in nodes if _fills(survey, name) and name not in open_ends]
    cracking, one_way = _check_valves(layout, runs)
    end_tank, end_port = _tank_ends(survey, tanks, runs)
    return Plumbed(
        circuit=circuit,
        tags=tuple(row.tag for row in rows),
        tanks=tanks,
        tank_node=_places(place, tanks),
        end_tank=end_tank,
        end_port=end_port,
        demands=tuple(survey.network.part_of(name) for name in drawn),
        demand_node=_places(place, drawn),
        outlets=tuple(open_ends),
        outlet_node=_places(place, open_ends),
        fills=tuple(survey.network.part_of(name) for name in pushed) if filling else (),
        fill_node=_places(place, pushed if filling else ()),
        dirty=_dirty(rows),
        pore=_pores(layout, tanks, end_tank, end_port),
        cracking=cracking,
        one_way=one_way,
        line_branch={n: (b, way) for b, run in enumerate(runs) for n, way in run.lines.items()},
        valve_branch={n: (b, way) for b, run in enumerate(runs) for n, way in run.valves.items()},
    )


def _draws(survey: Survey, name: str) -> bool:
    """Whether a node is a pump's inlet or an engine."""
    node = survey.network.nodes[name]
    return node.kind is PartKind.ENGINE or (node.kind is PartKind.PUMP and node.port == "in")


def _fills(survey: Survey, name: str) -> bool:
    return survey.network.kind_of(name) is PartKind.FILL_PORT


def _places(place: dict[str, int], names: Sequence[str]) -> Indices:
    return np.array([place.get(name, NO_TANK) for name in names], dtype=np.intp)


def _circuit(
    survey: Survey, nodes: Sequence[str], runs: Sequence[Run], open_ends: set[str]
) -> tuple[Circuit, list[Row]]:
    place = {name: number for number, name in enumerate(nodes)}
    rows = [row for run in runs for row in run.rows]
    owner = [number for number, run in enumerate(runs) for _ in run.rows]
    network = survey.network
    circuit = Circuit(
        nodes=tuple(nodes),
        fixed=np.array([name in open_ends for name in nodes], bool),
        mixing=np.array([name not in open_ends and not network.is_tank(name) for name in nodes]),
        branches=tuple(_called(run) for run in runs),
        start=_places(place, [run.start for run in runs]),
        end=_places(place, [run.end for run in runs]),
        points=np.array([_points(survey, run) for run in runs], float),
        elements=tuple(row.tag.what for row in rows),
        element_branch=np.array(owner, dtype=np.intp),
        **elements_of(rows),
    )
    return circuit, rows


def elements_of(rows: Sequence[Row]) -> dict[str, Any]:
    """Rows sorted by kind into the arrays of a circuit, by the circuit's names for them."""
    return {
        "tubes": Tubes(**_columns(rows, TubeRow, Tubes)),
        "fittings": Fittings(**_columns(rows, FittingRow, Fittings)),
        "bore_changes": BoreChanges(**_columns(rows, ChangeRow, BoreChanges)),
        "filters": _filters(rows),
    }


def _called(run: Run) -> str:
    return " + ".join(run.lines) or f"{run.start} to {run.end}"


def _points(survey: Survey, run: Run) -> list[Any]:
    """Positions of both ends: for a tank, where the port passes its wall."""
    nodes = survey.network.nodes
    ends = ((run.start, run.first), (run.end, run.last))
    return [
        nodes[beside if survey.network.is_tank(name) else name].position for name, beside in ends
    ]


def _columns(rows: Sequence[Row], kind: type[Row], into: type[Any]) -> dict[str, Any]:
    """Rows of one kind as named arrays."""
    found = [(number, row) for number, row in enumerate(rows) if isinstance(row, kind)]
    columns: dict[str, Any] = {"element": np.array([number for number, _ in found], dtype=np.intp)}
    for entry in fields(into)[1:]:
        columns[entry.name] = np.array([getattr(row, entry.name) for _, row in found], float)
    return columns


def _filters(rows: Sequence[Row]) -> Filters:
    found = [(number, row) for number, row in enumerate(rows) if isinstance(row, FilterRow)]
    linear = [row.clean / (row.viscosity * row.flow) for _, row in found]
    return Filters(
        element=np.array([number for number, _ in found], dtype=np.intp),
        linear=np.array(linear, float),
        quadratic=np.zeros(len(found)),
    )


def _dirty(rows: Sequence[Row]) -> Array:
    found = [row for row in rows if isinstance(row, FilterRow)]
    ratio = [max((row.dirty or row.clean) / row.clean, 1.0) for row in found]
    return np.array(ratio, float)


def _tank_ends(
    survey: Survey, tanks: Sequence[str], runs: Sequence[Run]
) -> tuple[Indices, tuple[tuple[str, str], ...]]:
    place = {name: number for number, name in enumerate(tanks)}
    ends = np.full((len(runs), 2), NO_TANK, dtype=np.intp)
    ports: list[tuple[str, str]] = []
    for number, run in enumerate(runs):
        ends[number] = [place.get(run.start, NO_TANK), place.get(run.end, NO_TANK)]
        pair = ((run.start, run.first), (run.end, run.last))
        first, last = (
            survey.network.nodes[beside].port if name in place else "" for name, beside in pair
        )
        ports.append((first, last))
    return ends, tuple(ports)


def _pores(
    layout: Layout,
    tanks: Sequence[str],
    end_tank: Indices,
    end_port: Sequence[tuple[str, str]],
) -> Array:
    pore = np.zeros(end_tank.shape)
    for branch, ports in enumerate(end_port):
        for end, port in enumerate(ports):
            if port:
                pickup = layout.tanks[tanks[end_tank[branch, end]]].ports[port].pickup
                pore[branch, end] = (pickup.pore or 0.0) if pickup else 0.0
    return pore


def _check_valves(layout: Layout, runs: Sequence[Run]) -> tuple[Array, Flags]:
    """Cracking pressures and one-way ends of the runs' check valves."""
    cracking = np.zeros((len(runs), 2))
    one_way = np.zeros((len(runs), 2), dtype=bool)
    for number, run in enumerate(runs):
        for name, along in run.valves.items():
            valve = layout.valves[name]
            if isinstance(valve, Valve) and valve.kind == "check":
                entering = _OTHER_WAY[along]
                cracking[number, entering] += valve.cracking_pressure or 0.0
                one_way[number, 1 - entering] = True
    return cracking, one_way
