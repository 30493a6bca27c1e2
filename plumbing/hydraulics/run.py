"""A branch as it is found: what lies between two stations, in order."""

from dataclasses import dataclass, field

from plumbing.hydraulics.rows import Row


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
