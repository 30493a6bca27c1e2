"""Air stays in the header when it is filled.

Why: The flight begins with the trap already full of what it is there to catch.
Cure: Fill the header from below and let it out at its highest point to the next tank, or bleed
it there.

Bad::

    tanks: {header: {ports: {in: {at: [498 mm, 0 mm, 10 mm]}}}}

Good::

    tanks: {header: {ports: {in: {at: [520 mm, 0 mm, 40 mm]}}}}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.checks.words import called
from plumbing.model.fields import Vector
from plumbing.model.tank import Port
from plumbing.network.filling import air_exits
from plumbing.simulation.levels import down_at, gas_kept
from plumbing.units import show, show_point

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
LIMIT = Limit("10 %", "share")


def find(case: Case, limit: float) -> Says:
    filling = case.layout.filling
    down = down_at(filling.pitch, filling.roll)
    for fill in case.survey.fills.values():
        for header in case.layout.headers():
            if header.name not in fill.filled:
                continue
            names = air_exits(case.survey.network, case.survey.openings, fill, header.name)
            exits = [_opening(header.ports[name]) for name in names]
            if not exits:
                continue
            trapped, top = gas_kept(header, exits, down)
            if trapped > limit:
                what = (
                    f"Filling at {called('fill port', fill.port)}, air leaves {header.name} below "
                    f"its roof at {show_point(top)}: {show(trapped, 'share')} of it stays air."
                )
                figures = Figure(trapped, "share"), Figure(limit, "share")
                yield Found(header.name, what, *figures, "ports", (fill.port,))


def _opening(port: Port) -> Vector:
    rest = port.pickup.rest if port.pickup is not None else None
    return port.opens_at or rest or port.at
