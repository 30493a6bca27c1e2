"""A vent is too narrow for the flow the tank is filled at.

Why: Air passes any vent, but when the tank is full fuel takes the same way at the same flow:
the pressure in the tank jumps, and thin walls split.
Cure: Widen the vent, its joints included, or fill more slowly.

Bad::

    filling: {flow: 3 L/min}

Good::

    filling: {flow: 0.6 L/min}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.hydraulics.breakdown import drop_along, vent_rows
from plumbing.hydraulics.line_elements import Reference
from plumbing.network.vent_ways import vent_ways
from plumbing.physics.constants import GRAVITY
from plumbing.simulation.fluid import blend_of
from plumbing.simulation.levels import surface
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "pressure drop of the full line; the limit is common practice"
LIMIT = Limit("5 kPa", "pressure")


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    flow = layout.filling.flow
    if flow is None:
        yield Lacking("filling.flow", "filling")
        return
    density, kinematic = (
        float(value) for value in blend_of(layout).properties(layout.filling.temperature)
    )
    viscosity = density * kinematic
    for way in vent_ways(case.survey.network):
        rows = vent_rows(layout, case.survey.lengths, way, Reference(flow, viscosity))
        lost = drop_along(rows, flow, density, viscosity)
        lift = max(way.peak - surface(way.tank, 1.0), 0.0) * density * GRAVITY
        low, high = (side + lift for side in (lost.low or 0.0, lost.high or 0.0))
        pressure = Figure(lost.value + lift, "pressure", low, high)
        if pressure.value > limit:
            what = (
                f"Filled at {flow * 6e4:.3g} L/min, {way.tank.name} comes under up to "
                f"{show(pressure.value, 'pressure')} when fuel reaches outlet {way.outlet.name}."
            )
            allowed = Figure(limit, "pressure")
            yield Found(way.lines[0], what, pressure, allowed, "tube", (way.tank.name,))
