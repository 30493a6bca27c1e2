"""Left standing, a vent empties the tank once fuel has got into it.

Why: A splash, a warm hour or a brim-full tank fills the line over its loop; from then on it
runs until the vent port is in air.
Cure: Let the vent open where it stays in air as parked, end above the fuel, or drain the line.

Bad::

    parking: {nose down: {pitch: -12 deg, fuel: 100 %}}

Good::

    parking: {nose down: {pitch: 5 deg, fuel: 100 %}}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.results import got
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "14 CFR 23.975 on fuel tank vents, from memory, used as an analogy"
RESTS_ON = "parking"
LIMIT = Limit("5 ml", "volume")
_OVER = 0.03  # a line that rises so far over the fuel does not fill by itself; common practice [m]


def find(case: Case, limit: float) -> Says:
    for parked in got(case.parking).attitudes.values():
        for outlet, lost in parked.lost.items():
            tanks = parked.tanks_that("siphons", outlet)
            if tanks and lost.in_the_end > limit:
                what = (
                    f"Left as {parked.name}, {outlet} stands below the fuel of "
                    f"{' and '.join(tanks)}: once its line is full it loses "
                    f"{show(lost.in_the_end, 'volume', 2)}, {show(lost.rate, 'flow', 2)} at first."
                )
                figures = Figure(lost.in_the_end, "volume"), Figure(limit, "volume")
                yield Found(parked.name, what, *figures, parts=(outlet, *tanks))
        for way in parked.ways:
            if way.state == "held" and way.rise < _OVER:
                what = (
                    f"Left as {parked.name}, {way.outlet} stands "
                    f"{show(way.head, 'length', 2)} below the fuel of {way.tank}; "
                    "only the suction behind it holds it back."
                )
                parts = (way.outlet, way.tank)
                yield Found(parked.name, what, parts=parts, severity=Severity.ADVICE)
