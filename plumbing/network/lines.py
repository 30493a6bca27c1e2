"""Every line with its role, direction and size."""

from __future__ import annotations

from plumbing.frozen import frozen
from plumbing.network.build import Network
from plumbing.network.flows import Flows
from plumbing.network.roles import Flow, Role
from plumbing.network.runs import Runs


@frozen
class LineUse:
    """What a line is there for.

    Attributes
    ----------
    line : str
        Its name.
    role : Role
        Suction, pressure, vent, fill, drain, return, balance or loose.
    flow : Flow
        Direction of flow along the line as written.
    start, end : str
        Ports as written, `part.port`.
    length : float
        As cut, else as routed [m].
    bore : float or None
        Bore of its tube [m].
    run : int
        Number of the run it belongs to, in `Survey.runs`.
    """

    line: str
    role: Role
    flow: Flow
    start: str
    end: str
    length: float
    bore: float | None
    run: int

    @property
    def upstream(self) -> str:
        """Port the flow comes from."""
        return self.end if self.flow is Flow.BACKWARD else self.start

    @property
    def downstream(self) -> str:
        """Port the flow goes to."""
        return self.start if self.flow is Flow.BACKWARD else self.end


def line_uses(network: Network, runs: Runs, flows: Flows) -> dict[str, LineUse]:
    """All lines by name."""
    return {
        join.name: LineUse(
            line=join.name,
            role=flows.role[number],
            flow=flows.flow[number],
            start=join.start,
            end=join.end,
            length=join.length,
            bore=join.bore,
            run=runs.of[join.start],
        )
        for number, join in enumerate(network.joins)
        if join.kind == "line"
    }
