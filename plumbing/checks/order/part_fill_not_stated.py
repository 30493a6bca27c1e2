"""It is not stated which tanks hold fuel on a short flight.

Why: Less fuel in the wrong tank is a different aircraft: the near tanks full and the far ones
empty is the rule.
Cure: Write down which tanks are filled for a short flight, and balance that case.
Over: chained-pair

Bad::

    filling: {part-fill: null}

Good::

    filling: {part-fill: "near tanks full, far tanks empty"}
"""

from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.ADVICE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    mains = [tank for tank in case.layout.tanks.values() if tank.role == "main"]
    if len(mains) > 1 and not (case.layout.filling.part_fill or "").strip():
        what = f"It is not stated which of {len(mains)} tanks hold fuel on a short flight."
        yield Found("filling", what, field="part_fill")
