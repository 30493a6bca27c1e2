"""The way from each tank to each outlet that vents it, of the layout under examination."""

from collections.abc import Iterator

from plumbing.checks.case import Case
from plumbing.hydraulics.along import Reference, line_rows, part_rows
from plumbing.hydraulics.rows import FittingRow, Row, Tag, backwards
from plumbing.model.layout import split_port
from plumbing.model.parts import Connector, Filter, Tee, Valve
from plumbing.network import vent_ways as ways
from plumbing.network.vent_ways import VentWay
from plumbing.physics.fittings import two_k

__all__ = ["VentWay", "rows_along", "vent_ways"]

_EXIT = (two_k("exit")[1], two_k("exit-laminar")[1])  # from a flat and a parabolic profile


def vent_ways(case: Case) -> Iterator[VentWay]:
    """Ways from every outlet to the tanks it vents, plugs and closed valves taken as open."""
    return ways.vent_ways(case.survey.network)


def rows_along(case: Case, way: VentWay, reference: Reference) -> list[Row]:
    """Everything a flow meets on its way from the tank out of the outlet."""
    layout = case.layout
    rows = backwards(part_rows(way.tank, way.port.name, reference))
    for name, forward in zip(way.lines, way.forward, strict=True):
        own = line_rows(layout, layout.lines[name], case.survey.lengths[name].used, reference)
        rows += own if forward else backwards(own)
    for name, port in map(split_port, way.ports):
        part = layout.part(name)
        if isinstance(part, Tee) or (isinstance(part, Valve | Filter | Connector) and port == "in"):
            rows += part_rows(part, port, reference)
    tag = Tag("", way.outlet.name, "outlet")
    rows.append(FittingRow(tag, way.outlet.bore, 0.0, *_EXIT))
    return rows
