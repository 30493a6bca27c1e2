"""The centre of gravity leaves its limits during the flight.

Why: The worst balance is often neither full nor empty, but half-way through the burn.
Cure: Move a tank towards the centre of gravity, or change which tank empties first.

Bad::

    aircraft: {cg-limits: [300 mm, 330 mm]}

Good::

    aircraft: {cg-limits: [250 mm, 500 mm]}
"""

import numpy as np

from plumbing.checks.kit import Case, Figure, Found, Lacking, Says, Severity
from plumbing.results import got
from plumbing.units import clock, show

SEVERITY = Severity.UNSAFE
SOURCE = "computed flight, fuel as it lies in each attitude"


def find(case: Case, limit: float) -> Says:
    flight = got(case.flight)
    limits, cg = case.layout.aircraft.cg_limits, flight.history.cg
    if limits is None or cg is None:
        yield Lacking("aircraft.cg-limits, aircraft.dry-mass and aircraft.dry-cg", "aircraft")
        return
    x = cg[:, 0]
    for side, edge, beyond in (
        ("ahead of", limits[0], limits[0] - x),
        ("behind", limits[1], x - limits[1]),
    ):
        worst = int(np.argmax(beyond))
        if beyond[worst] > 0.0:
            phase = flight.profile.phase[flight.history.stretch[worst]]
            yield Found(
                "aircraft",
                f"After {clock(float(flight.history.time[worst]))} ({phase}) the centre of gravity "
                f"is at {show(float(x[worst]), 'length')}, {show(float(beyond[worst]), 'length')} "
                f"{side} its limit.",
                Figure(float(x[worst]), "length"),
                Figure(edge, "length"),
                field="cg_limits",
            )
