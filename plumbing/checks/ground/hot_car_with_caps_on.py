"""Fuelled tanks are left capped where they get hot.

Why: Fuel grows by a tenth of a percent per degree into the little air a full tank has left:
a capped tank swells, weeps and splits in a hot car.
Cure: Drain for transport, or leave the vent open into a bottle.

Bad::

    parking: {nose up in the car: {fuel: 100 %, capped: yes, hottest: 45 degC}}

Good::

    parking: {nose up in the car: {fuel: 100 %, capped: no, hottest: 45 degC}}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.results import got
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "gas law and the expansion of fuel by ASTM D1250; the limit is common practice"
RESTS_ON = "parking"
LIMIT = Limit("5 kPa", "pressure")


def find(case: Case, limit: float) -> Says:
    for parked in got(case.parking).attitudes.values():
        if not parked.capped or parked.on_board <= 0.0:
            continue
        if case.layout.parking[parked.name].hottest is None:
            yield Lacking(f"parking.{parked.name}.hottest", parked.name)
            continue
        heat = parked.warmed
        hot = show(heat.celsius_to, "temperature")
        for tank, rise in heat.capped_pressure.items():
            if case.layout.tanks[tank].role == "header":
                continue
            if tank in heat.brim_full:
                what = f"Parking {parked.name}: at {hot} the fuel outgrows {tank}."
                yield Found(parked.name, what, field="capped", parts=(tank,))
            elif rise > limit:
                what = (
                    f"Parking {parked.name}: capped at {hot}, {tank} comes under up to "
                    f"{show(rise, 'pressure')}."
                )
                figures = Figure(rise, "pressure"), Figure(limit, "pressure")
                yield Found(parked.name, what, *figures, "capped", (tank,))
