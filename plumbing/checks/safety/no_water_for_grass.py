"""There is no means against a grass fire at the site.

Why: A crash or hot exhaust lights dry grass, and a gas extinguisher does not stop a grass fire.
Cure: Have water, a knapsack sprayer or beaters at the field in dry weather.

Bad::

    safety: {water-for-grass: no}

Good::

    safety: {water-for-grass: yes}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.ADVICE
SOURCE = "US association's safety column of 2004 on turbine models; national rules decide"


def find(case: Case, limit: float) -> Says:
    fault = Found(
        "safety", "There is no means against a grass fire at the site.", field="water_for_grass"
    )
    yield from declared(case.layout.safety.water_for_grass, "safety.water-for-grass", fault)
