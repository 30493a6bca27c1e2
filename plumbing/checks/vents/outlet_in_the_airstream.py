"""The airstream presses into an outlet, or sucks at it.

Why: Every tank takes the pressure of its outlet: speed then changes what the pump must draw, and
folds or swells thin tanks.
Cure: Put the outlet flush with the skin where the stream runs along it, and measure it once.

Bad::

    outlets: {vent: {facing: forward, pressure-coefficient: null}}

Good::

    outlets: {vent: {facing: flush, pressure-coefficient: null}}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.physics.vents import dynamic_pressure
from plumbing.simulation.airstream import coefficient_of
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "dynamic pressure; the limit and the coefficients by facing are common practice"
LIMIT = Limit("0.5 kPa", "pressure")

_MEASURE = (
    "Measure it in one flight with a water manometer and write it down as pressure-coefficient; "
    "flush with the skin it is least."
)


def find(case: Case, limit: float) -> Says:
    speed = case.layout.aircraft.max_airspeed
    dynamic = float(dynamic_pressure(speed))
    for outlet in case.layout.outlets.values():
        if outlet.pressure_coefficient is None and outlet.facing is None:
            yield Lacking(f"outlets.{outlet.name}.facing", outlet.name)
            continue
        likely, low, high = coefficient_of(outlet)
        if abs(likely) * dynamic > limit:
            does = "presses" if likely > 0 else "sucks"
            least, most = sorted((abs(low), abs(high))) if low * high > 0 else (0.0, abs(low))
            pressure = Figure(
                abs(likely) * dynamic, "pressure", least * dynamic, max(most, abs(high)) * dynamic
            )
            what = (
                f"At {show(speed, 'speed')} the stream {does} at outlet {outlet.name} with "
                f"{show(pressure.value, 'pressure')}."
            )
            stated = outlet.pressure_coefficient is not None or outlet.facing == "forward"
            yield Found(
                outlet.name,
                what if stated else f"{what[:-1]}, if it is as usual for its kind.",
                pressure,
                Figure(limit, "pressure"),
                "facing",
                severity=None if stated else Severity.ADVICE,
                advice="" if stated else _MEASURE,
            )
