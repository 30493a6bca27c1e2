"""Left standing, fuel runs out of a vent by itself.

Why: The vent port stands under fuel, its line never rises over the surface, and the outlet is
lower: the tank runs out onto the wheels.
Cure: Lead the line over the tank, or park another way.

Bad::

    tanks: {main: {ports: {breather: {at: [300 mm, -30 mm, 60 mm], bore: 3.6 mm}}}}
    outlets: {breather: {at: [400 mm, -60 mm, 150 mm], bore: 4 mm}}
    lines:
      vent: {route: [[200 mm, 30 mm, 62 mm], [200 mm, 70 mm, 40 mm]]}
      breather: {from: main.breather, to: breather.tube, tube: polyurethane 6x4}
    parking: {nose down: {pitch: -12 deg, fuel: 100 %}}

Good::

    parking: {nose up: {pitch: 5 deg, fuel: 100 %}}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.results import got
from plumbing.units import show

SEVERITY = Severity.UNSAFE
SOURCE = "14 CFR 23.975 on fuel tank vents, from memory, used as an analogy"
RESTS_ON = "parking"
LIMIT = Limit("5 ml", "volume")


def find(case: Case, limit: float) -> Says:
    for parked in got(case.parking).attitudes.values():
        for outlet, lost in parked.lost.items():
            tanks = parked.tanks_that("runs", outlet)
            if tanks and lost.in_the_end > limit:
                what = (
                    f"Left as {parked.name}, fuel runs from {' and '.join(tanks)} out of {outlet}: "
                    f"{show(lost.rate, 'flow', 2)} at first, "
                    f"{show(lost.in_the_end, 'volume', 2)} in all."
                )
                figures = Figure(lost.in_the_end, "volume"), Figure(limit, "volume")
                yield Found(parked.name, what, *figures, parts=(outlet, *tanks))
