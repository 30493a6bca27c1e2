"""The suction in a tank comes near to what folds it.

Why: A flat wall that clicks in shuts the pickup, works its seam loose and comes back every
flight.
Cure: Widen the line that refills the tank, or stiffen its walls; half of what folds it is
enough.

Bad::

    tanks: {header: {wall: {collapse-suction: 0.3 kPa}}}

Good::

    tanks: {header: {wall: {collapse-suction: 60 kPa}}}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.units import show

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
LIMIT = Limit("50 %", "share")


def find(case: Case, limit: float) -> Says:
    worst: dict[str, Figure] = {}
    for engine in case.peak.engines.values():
        for name, pressure in engine.tank_pressures.items():
            if name not in worst or _lowest(pressure) < _lowest(worst[name]):
                worst[name] = pressure
    for name, pressure in worst.items():
        wall = case.layout.tanks[name].wall
        if wall is not None and wall.kind == "bag":
            continue
        if wall is None or wall.collapse_suction is None:
            yield Lacking(f"tanks.{name}.wall.collapse-suction", name)
            continue
        suction, allowed = -_lowest(pressure), limit * wall.collapse_suction
        if suction > allowed:
            what = (
                f"At full flow, in the hardest manoeuvre, {name} stands under "
                f"{show(suction, 'pressure')} of suction; "
                f"it folds at {show(wall.collapse_suction, 'pressure')}."
            )
            figures = Figure(suction, "pressure"), Figure(allowed, "pressure")
            yield Found(name, what, *figures, field="wall")


def _lowest(pressure: Figure) -> float:
    return pressure.value if pressure.low is None else pressure.low
