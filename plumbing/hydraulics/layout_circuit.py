"""A layout's circuit with what its parts are in the layout, and its branches as they are found."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics.circuit import Circuit
from plumbing.physics.arrays import Array, Flags, Indices


@frozen
class Tag:
    """What an element is, for people.

    Attributes
    ----------
    line : str
        Line it belongs to, or empty.
    part : str
        Part it belongs to, or empty for plain tube.
    what : str
        In words with its size.
    """

    line: str
    part: str
    what: str


@frozen
class TubeRow:
    """A tube; lengths in m."""

    tag: Tag
    length: float
    bore: float
    roughness: float = 0.0
    entry: float = 0.0
    bend_length: float = 0.0
    coil: float = 1.0


@frozen
class FittingRow:
    """A fitting with its loss coefficients, on its own bore [m]."""

    tag: Tag
    bore: float
    k1: float
    k_inf_low: float
    k_inf_high: float


@frozen
class ChangeRow:
    """A sudden change of bore [m]."""

    tag: Tag
    before: float
    after: float


@frozen
class FilterRow:
    """A part with a stated drop.

    Attributes
    ----------
    clean : float
        Drop when clean [Pa] at `flow` [m3/s] and `viscosity` [Pa s].
    dirty : float or None
        The same when due for change, if stated.
    """

    tag: Tag
    clean: float
    dirty: float | None
    flow: float
    viscosity: float


Row = TubeRow | FittingRow | ChangeRow | FilterRow


def backwards(rows: list[Row]) -> list[Row]:
    """Same elements met from the other end."""
    return [
        replace(row, before=row.after, after=row.before) if isinstance(row, ChangeRow) else row
        for row in reversed(rows)
    ]


@dataclass(slots=True)
class Run:
    """A branch in the making.

    Attributes
    ----------
    start, end : str
        Stations: where flow divides, is stored, enters or leaves.
    first, last : str
        Nodes next to them, such as the tank port the run begins at.
    rows : list of Row
        Elements from start to end.
    lines, valves : dict of str to bool
        Lines and valves passed, and whether along their own direction.
    """

    start: str
    first: str
    end: str = ""
    last: str = ""
    rows: list[Row] = field(default_factory=list)
    lines: dict[str, bool] = field(default_factory=dict)
    valves: dict[str, bool] = field(default_factory=dict)


NO_TANK = -1


@frozen(eq=False)
class Plumbed:
    """A circuit and its ties to the layout.

    Attributes
    ----------
    circuit : Circuit
        The network as arrays: N nodes, B branches, E elements, F filters.
    tags : tuple of Tag
        What each element is, length E.
    tanks : tuple of str
        Tanks of the whole layout, T of them, in the file's order.
    tank_node : Indices
        Node of each tank's gas space, shape (T,); -1 for a tank no branch reaches.
    end_tank : Indices
        Tank at either end of each branch, shape (B, 2); -1 elsewhere.
    end_port : tuple of (str, str)
        Name of that tank's port, or empty, length B.
    demands : tuple of str
        Pumps (and engines fed without a pump) that draw fuel, P of them.
    demand_node : Indices
        Their nodes, shape (P,).
    outlets : tuple of str
        Open openings, as nodes of the layout.
    outlet_node : Indices
        Their nodes.
    fills : tuple of str
        Fill ports kept in the circuit.
    fill_node : Indices
        Their nodes.
    dirty : Array
        Drop when due for change over drop when clean, shape (F,); 1 where not stated.
    pore : Array
        Largest pore of a fine-pore pickup at either end of each branch, shape (B, 2) [m]; else 0.
    cracking : Array
        Cracking pressure of check valves, for flow entering at that end, shape (B, 2) [Pa].
    one_way : Flags
        Ends at which a check valve lets nothing enter, shape (B, 2).
    line_branch, valve_branch : mapping of str to (int, bool)
        Branch of each line and valve, and whether it runs along the branch.
    """

    circuit: Circuit
    tags: tuple[Tag, ...]
    tanks: tuple[str, ...]
    tank_node: Indices
    end_tank: Indices
    end_port: tuple[tuple[str, str], ...]
    demands: tuple[str, ...]
    demand_node: Indices
    outlets: tuple[str, ...]
    outlet_node: Indices
    fills: tuple[str, ...]
    fill_node: Indices
    dirty: Array
    pore: Array
    cracking: Array
    one_way: Flags
    line_branch: Mapping[str, tuple[int, bool]]
    valve_branch: Mapping[str, tuple[int, bool]]

    def blocked(self, closed_valves: frozenset[str]) -> Flags:
        """Ends at which nothing can enter with these valves closed, shape (B, 2)."""
        blocked: Flags = self.one_way.copy()
        for name in closed_valves & self.valve_branch.keys():
            blocked[self.valve_branch[name][0]] = True
        return blocked

    @cached_property
    def gains(self) -> Array:
        """What flow along each branch brings each node: +1 at its end, -1 at its start, (B, N)."""
        nodes = np.arange(len(self.circuit.nodes))
        ends, starts = (side[:, None] == nodes for side in (self.circuit.end, self.circuit.start))
        return np.asarray(ends.astype(float) - starts.astype(float))

    def demand(self, flows: Array) -> Array:
        """Demand at every node, shape (S, N), from flows of shape (S, P) [m3/s]."""
        nodes = np.arange(len(self.circuit.nodes))
        drawn: Array = flows @ (self.demand_node[:, None] == nodes).astype(float)
        return drawn
