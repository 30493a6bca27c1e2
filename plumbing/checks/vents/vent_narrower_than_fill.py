"""A vent is narrower than the line it is filled through.

Why: What goes in must come out: when fuel reaches the vent, the narrower bore sets the pressure
in the tank.
Cure: Make the vent at least as wide as the fill line all the way, fittings included.

Bad::

    outlets: {vent: {bore: 2.5 mm}}

Good::

    outlets: {vent: {bore: 4 mm}}
"""

from plumbing.checks.kit import Case, Figure, Found, Says, Severity
from plumbing.model.layout import Layout
from plumbing.model.parts import FillPort
from plumbing.network.vent_ways import vent_ways
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    fill = min((fill_bore(layout, port) for port in layout.fill_ports.values()), default=0.0)
    for way in vent_ways(case.survey.network):
        if way.bore < fill:
            what = (
                f"The vent of {way.tank.name} to outlet {way.outlet.name} narrows to "
                f"{show(way.bore, 'length')}, the fill line only to {show(fill, 'length')}."
            )
            figures = Figure(way.bore, "length"), Figure(fill, "length")
            yield Found(way.lines[0], what, *figures, "tube", (way.tank.name, way.outlet.name))


def fill_bore(layout: Layout, port: FillPort) -> float:
    """Narrowest of a fill port and the lines joined to it [m]."""
    lines = [
        line
        for line in layout.lines.values()
        if port.name in (line.from_.partition(".")[0], line.to.partition(".")[0])
    ]
    return min([port.bore, *(layout.tube_of(line).inside_diameter for line in lines)])
