"""The airstream presses into an outlet, or sucks at it.

Why: Every tank takes the pressure of its outlet: speed then shifts the mixture at idle, and
folds or swells tanks.
Cure: Put the outlet flush with the skin where the stream runs along it, and measure it once.

Bad::

    outlets: {vent: {facing: forward, pressure-coefficient: null}}

Good::

    outlets: {vent: {facing: flush, pressure-coefficient: null}}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "dynamic pressure; the limit and the coefficients by facing are common practice"
LIMIT = Limit("0.5 kPa", "pressure")


# Outlet pressure over dynamic pressure with its range, for a tube standing in the stream:
# stagnation forwards, wake pressure aft, suction over an end that faces across.
FACING = {
    "forward": (1.0, 0.9, 1.0),
    "aft": (-0.2, -0.4, -0.1),
    "side": (-0.3, -0.7, 0.1),
    "down": (-0.3, -0.7, 0.1),
    "up": (-0.3, -0.7, 0.1),
    "flush": (0.0, -0.1, 0.1),
}
AIR = 1.225  # kg/m3 at sea level, standard atmosphere


def find(case: Case, limit: float) -> Says:
    speed = case.layout.aircraft.max_airspeed
    dynamic = 0.5 * AIR * speed**2
    for outlet in case.layout.outlets.values():
        if outlet.pressure_coefficient is not None:
            likely = low = high = outlet.pressure_coefficient
        elif outlet.facing is not None:
            likely, low, high = FACING[outlet.facing]
        else:
            yield Lacking(f"outlets.{outlet.name}.facing", outlet.name)
            continue
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
            yield Found(outlet.name, what, pressure, Figure(limit, "pressure"), "facing")
