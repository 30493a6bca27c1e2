"""People stand too near when the engine is started.

Why: A hot start throws flame aft, and a burst wheel throws it sideways.
Cure: Keep everybody not needed at the distance your rules ask for.

Bad::

    safety: {clear-zone: 4 m}

Good::

    safety: {clear-zone: 10 m}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity

SEVERITY = Severity.UNSAFE
SOURCE = "Canadian association's turbine guidelines, as posted by a club; national rules decide"
LIMIT = Limit("10 m", "length")


def find(case: Case, limit: float) -> Says:
    zone = case.layout.safety.clear_zone
    if zone is None:
        yield Lacking("safety.clear-zone", "safety")
    elif zone < limit:
        what = f"Others stand {zone:.3g} m away at the start, less than {limit:.3g} m."
        figures = Figure(zone, "length"), Figure(limit, "length")
        yield Found("safety", what, *figures, field="clear_zone")
