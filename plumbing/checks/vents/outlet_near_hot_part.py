"""An outlet lies near an exhaust or hot part, or ahead of an intake.

Why: Fuel thrown from a vent onto a hot pipe burns; in front of an intake it goes through the
engine.
Cure: Lead the outlet away from the exhaust and behind the intakes.

Bad::

    engines: {engine: {exhaust: [500 mm, 0 mm, 0 mm]}}
    outlets: {vent: {at: [520 mm, 40 mm, -40 mm]}}

Good::

    engines: {engine: {exhaust: [4 m, 0 mm, 0 mm], intake: [3 m, 0 mm, 0 mm]}}
"""

import math

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.where import clearance
from plumbing.model.fields import Vector
from plumbing.units import show

SEVERITY = Severity.UNSAFE
SOURCE = "14 CFR 25.975 on fuel tank vents, used as an analogy; the distance is common practice"
LIMIT = Limit("150 mm", "length")


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    hot = [zone for zone in layout.zones.values() if zone.kind in ("hot", "exhaust")]
    for engine in layout.engines.values():
        if engine.exhaust is None and not hot:
            yield Lacking(f"engines.{engine.name}.exhaust", engine.name)
    for outlet in layout.outlets.values():
        gaps = {zone.name: clearance(outlet.at, zone) for zone in hot}
        for engine in layout.engines.values():
            if engine.exhaust is not None:
                gaps[engine.name] = math.dist(outlet.at, engine.exhaust)
            if engine.intake is not None and _ahead(outlet.at, engine.intake, limit):
                what = f"Outlet {outlet.name} lies in front of the intake of {engine.name}."
                yield Found(outlet.name, what, field="at", parts=(engine.name,))
        for name, gap in gaps.items():
            if gap < limit:
                what = (
                    f"Outlet {outlet.name} lies {show(max(gap, 0.0), 'length')} from the hot parts "
                    f"of {name}."
                )
                figures = Figure(gap, "length"), Figure(limit, "length")
                yield Found(outlet.name, what, *figures, "at", (name,))


def _ahead(outlet: Vector, intake: Vector, limit: float) -> bool:
    """Whether what leaves the outlet is carried into the intake."""
    return outlet[0] < intake[0] and math.dist(outlet[1:], intake[1:]) < limit
