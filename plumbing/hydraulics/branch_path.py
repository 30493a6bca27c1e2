"""A branch as it is found: elements in order along its lines, before they become rows of arrays."""

from __future__ import annotations

from dataclasses import dataclass, field, replace


@dataclass(frozen=True, slots=True)
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


@dataclass(frozen=True, slots=True)
class TubeRow:
    """A tube; lengths in m."""

    tag: Tag
    length: float
    bore: float
    roughness: float = 0.0
    entry: float = 0.0
    bend_length: float = 0.0
    coil: float = 1.0


@dataclass(frozen=True, slots=True)
class FittingRow:
    """A fitting with its loss coefficients, on its own bore [m]."""

    tag: Tag
    bore: float
    k1: float
    k_inf_low: float
    k_inf_high: float


@dataclass(frozen=True, slots=True)
class ChangeRow:
    """A sudden change of bore [m]."""

    tag: Tag
    before: float
    after: float


@dataclass(frozen=True, slots=True)
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
