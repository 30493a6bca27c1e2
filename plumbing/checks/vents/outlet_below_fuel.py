"""An outlet lies below the fuel and nothing keeps the fuel from running to it.

Why: The tank empties into the car: over the low vent line by itself, or by the first splash
that starts the siphon.
Cure: Give the vent a loop above the tank, or bring the outlet above the fuel.

Bad::

    lines:
      vent: {route: [[200 mm, 70 mm, 50 mm], [240 mm, 70 mm, 40 mm]]}

Good::

    lines:
      vent: {route: [[200 mm, 30 mm, 110 mm], [200 mm, 70 mm, 110 mm], [240 mm, 70 mm, 40 mm]]}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.network.vent_ways import vent_ways
from plumbing.simulation.levels import surface
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "14 CFR 25.975 on fuel tank vents, used as an analogy"
LIMIT = Limit("30 mm", "length")


def find(case: Case, limit: float) -> Says:
    for way in vent_ways(case.survey.network):
        level = surface(way.tank, way.tank.fill)
        head = level - way.outlet.at[2]
        loop = way.peak - level
        if head <= 0.0 or loop >= limit:
            continue
        if not way.routed:
            yield Lacking(f"lines.{way.lines[0]}.route", way.lines[0])
            continue
        runs = "fuel runs out by itself" if loop <= 0.0 else "one splash starts a siphon"
        what = (
            f"Outlet {way.outlet.name} lies {show(head, 'length')} below the full fuel of "
            f"{way.tank.name} and no loop stands above it: {runs}."
        )
        severity = Severity.UNSAFE if loop <= 0.0 else None
        figures = Figure(loop, "length"), Figure(limit, "length")
        yield Found(way.outlet.name, what, *figures, "at", (way.tank.name, *way.lines), severity)
