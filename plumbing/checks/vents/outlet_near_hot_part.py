"""An outlet lies near an exhaust or hot part, or ahead of an intake.

Why: Fuel thrown from a vent onto a hot pipe burns; in front of an intake it goes through the
engine.
Cure: Lead the outlet away from the exhaust and behind the intakes.

Bad::

    outlets: {vent: {at: [1250 mm, 70 mm, -50 mm]}}

Good::

    outlets: {vent: {at: [240 mm, 70 mm, -85 mm]}}
"""

import math

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.geometry.bodies import tube
from plumbing.network.room import zone_body
from plumbing.network.space import clearance
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
        gaps = {zone.name: clearance(tube(outlet.at, 0.0), zone_body(zone)) for zone in hot}
        for engine in layout.engines.values():
            if engine.exhaust is not None:
                gaps[engine.name] = math.dist(outlet.at, engine.exhaust)
            if engine.intake is not None and outlet.at[0] < engine.intake[0]:
                ahead = math.dist(outlet.at, engine.intake)
                if ahead < limit:
                    what = (
                        f"Outlet {outlet.name} lies {show(ahead, 'length')} ahead of the intake "
                        f"of {engine.name}."
                    )
                    figures = Figure(ahead, "length"), Figure(limit, "length")
                    yield Found(outlet.name, what, *figures, "at", (engine.name,))
        for name, gap in gaps.items():
            if gap < limit:
                what = (
                    f"Outlet {outlet.name} lies {show(gap, 'length')} from the hot parts of {name}."
                )
                figures = Figure(gap, "length"), Figure(limit, "length")
                yield Found(outlet.name, what, *figures, "at", (name,))
