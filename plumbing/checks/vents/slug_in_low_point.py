"""Fuel in the low point of a vent costs much suction under load.

Why: Air must lift the fuel out of the sag before it reaches the tank; a pull multiplies its
weight, and the tank folds or the pump draws vapour.
Cure: Take the sag out of the vent line, or drain it at its lowest point.

Bad::

    lines:
      vent: {route: [[200 mm, 30 mm, -20 mm], [200 mm, 70 mm, 110 mm], [240 mm, 70 mm, 40 mm]]}

Good::

    lines:
      vent: {route: [[200 mm, 30 mm, 110 mm], [200 mm, 70 mm, 110 mm], [240 mm, 70 mm, 40 mm]]}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.results import got
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "weight of the fuel in the sag at the load flown; the limit is common practice"
RESTS_ON = "parking"
LIMIT = Limit("2 kPa", "pressure")


def find(case: Case, limit: float) -> Says:
    for way in got(case.parking).vents.ways:
        if way.slug <= limit:
            continue
        what = (
            f"Full of fuel, the low point in the vent of {way.tank} to {way.outlet} costs "
            f"{show(way.slug, 'pressure')} of suction {way.slug_when}."
        )
        figures = Figure(way.slug, "pressure"), Figure(limit, "pressure")
        yield Found(way.lines[0], what, *figures, "route", (way.tank, way.outlet))
