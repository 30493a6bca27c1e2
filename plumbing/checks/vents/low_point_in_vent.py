"""A vent line has a low point that holds fuel.

Why: A slug of fuel in the vent must be lifted before air passes: at five g that is a suction
tanks fold under.
Cure: Lead the line up all the way to the loop and down all the way to the outlet.

Bad::

    lines:
      vent: {route: [[200 mm, 30 mm, -20 mm], [200 mm, 70 mm, 110 mm], [240 mm, 70 mm, 40 mm]]}

Good::

    lines:
      vent: {route: [[200 mm, 30 mm, 110 mm], [200 mm, 70 mm, 110 mm], [240 mm, 70 mm, 40 mm]]}
"""

import numpy as np

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.geometry.humps import extrema
from plumbing.network.vent_ways import vent_ways
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "14 CFR 25.975 on fuel tank vents, used as an analogy; the number is common practice"
LIMIT = Limit("10 mm", "length")


def find(case: Case, limit: float) -> Says:
    for way in vent_ways(case.survey.network):
        found = extrema(way.points, (0.0, 0.0, 1.0))
        sags = np.where(found.low, found.sag, 0.0)[0]
        lowest = int(sags.argmax())
        sag = float(sags[lowest])
        if sag > limit:
            what = (
                f"The vent of {way.tank.name} to outlet {way.outlet.name} sags by "
                f"{show(sag, 'length')} at x = {show(way.points[lowest, 0], 'length')}."
            )
            figures = Figure(sag, "length"), Figure(limit, "length")
            yield Found(way.lines[0], what, *figures, "route", (way.tank.name, way.outlet.name))
