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


def find(case: Case, limit: float) -> Says:
    for parked in got(case.parking).attitudes.values():
        for way in parked.outlets:
            held = way.state == "held"
            if not (held or (way.state == "siphons" and way.loss > limit)):
                continue
            what = f"Left as {parked.name}, {way.outlet} stands {show(way.head, 'length', 2)} "
            if held:
                what += f"below the fuel of {way.tank}; only the closed tank holds it back."
            else:
                what += (
                    f"below the fuel of {way.tank}: once its line is full it loses "
                    f"{show(way.loss, 'volume', 2)}, {show(way.rate, 'flow', 2)} at first."
                )
            yield Found(
                parked.name,
                what,
                None if held else Figure(way.loss, "volume"),
                None if held else Figure(limit, "volume"),
                parts=(way.outlet, way.tank),
                severity=Severity.ADVICE if held else None,
            )
