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
from plumbing.physics.thermal import capped_pressure, volume_ratio
from plumbing.simulation.fluid import blend_of
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "gas law and the expansion of fuel by ASTM D1250; the limit is common practice"
LIMIT = Limit("5 kPa", "pressure")


def find(case: Case, limit: float) -> Says:
    density, cold = blend_of(case.layout).density_15, case.layout.filling.temperature
    for parking in case.layout.parking.values():
        if not parking.capped or parking.fuel <= 0.0:
            continue
        if parking.hottest is None:
            yield Lacking(f"parking.{parking.name}.hottest", parking.name)
            continue
        hot = show(parking.hottest, "temperature")
        for tank in case.layout.tanks.values():
            if tank.role == "header":
                continue
            share = parking.fuel * tank.fill
            rise = float(capped_pressure(share, cold, parking.hottest, density))
            if share * float(volume_ratio(cold, parking.hottest, density)) >= 1.0:
                what = f"Parking {parking.name}: at {hot} the fuel outgrows {tank.name}."
                yield Found(parking.name, what, field="capped", parts=(tank.name,))
            elif rise > limit:
                what = (
                    f"Parking {parking.name}: capped at {hot}, {tank.name} comes under up to "
                    f"{show(rise, 'pressure')}."
                )
                figures = Figure(rise, "pressure"), Figure(limit, "pressure")
                yield Found(parking.name, what, *figures, "capped", (tank.name,))
