"""A vent line does not rise above its tank before it goes down.

Why: Fuel that slops into the vent runs out of it, and once it runs it pulls the rest after it.
Cure: Lead the line 30 mm above the top of the tank before it goes down to its outlet.

Bad::

    lines:
      vent: {route: [[200 mm, 30 mm, 65 mm], [200 mm, 70 mm, 65 mm], [240 mm, 70 mm, 40 mm]]}

Good::

    lines:
      vent: {route: [[200 mm, 30 mm, 110 mm], [200 mm, 70 mm, 110 mm], [240 mm, 70 mm, 40 mm]]}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.network.vent_ways import vent_ways
from plumbing.simulation.levels import span
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "14 CFR 25.975 on fuel tank vents, used as an analogy; the number is common practice"
LIMIT = Limit("30 mm", "length")


def find(case: Case, limit: float) -> Says:
    for way in vent_ways(case.survey.network):
        if not way.routed:
            yield Lacking(f"lines.{way.lines[0]}.route", way.lines[0])
            continue
        rise = way.peak - span(way.tank)[1]
        if rise < limit:
            side = "below" if rise < 0 else "above"
            what = (
                f"The vent of {way.tank.name} to outlet {way.outlet.name} has its highest point "
                f"{show(abs(rise), 'length')} {side} the top of the tank."
            )
            figures = Figure(rise, "length"), Figure(limit, "length")
            yield Found(way.lines[0], what, *figures, "route", (way.tank.name, way.outlet.name))
