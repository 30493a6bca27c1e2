"""The fuel is filled through no fine filter.

Why: Most dirt in a model comes out of the can; what goes in ends in the pump gears.
Cure: Fill through a filter of 10 um or finer with a water stop.

Bad::

    filling: {filter-pore: 80 um}

Good::

    filling: {filter-pore: 5 um}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("10 um", "length")


def find(case: Case, limit: float) -> Says:
    pore = case.layout.filling.filter_pore
    if pore is None:
        yield Lacking("filling.filter-pore", "filling")
    elif pore > limit:
        what = f"The filling filter passes {pore * 1e6:.3g} um, more than {limit * 1e6:.3g} um."
        figures = Figure(pore, "length"), Figure(limit, "length")
        yield Found("filling", what, *figures, field="filter_pore")
