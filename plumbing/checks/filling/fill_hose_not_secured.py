"""The filling hose can come off, or its joint is too near the pump.

Why: A hose that slips off under pressure sprays fuel; a brushed motor or battery beside it
lights the spray.
Cure: Clamp both hose ends, and keep pump and battery a metre or more from the joint.

Bad::

    filling: {hose-clamped: no, pump-distance: 0.3 m}

Good::

    filling: {hose-clamped: yes, pump-distance: 1.5 m}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
LIMIT = Limit("1 m", "length")


def find(case: Case, limit: float) -> Says:
    filling = case.layout.filling
    fault = Found("filling", "The ends of the filling hose are not secured.", field="hose_clamped")
    yield from declared(filling.hose_clamped, "filling.hose-clamped", fault)
    distance = filling.pump_distance
    if distance is None:
        yield Lacking("filling.pump-distance", "filling")
    elif distance < limit:
        what = f"The filling pump stands only {distance:.2g} m from the hose joint."
        figures = Figure(distance, "length"), Figure(limit, "length")
        yield Found("filling", what, *figures, field="pump_distance")
