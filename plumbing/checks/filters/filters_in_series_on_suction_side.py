"""Several restrictive elements stand in series before the pump.

Why: Felt, screen and bag in a row add their drops, clean and again when each one clogs.
Cure: One coarse and one fine element at most before the pump; the finest belongs behind it.

Bad::

    tanks:
      main: {ports: {feed: {pickup: {kind: fine-pore, swings: yes}}}}
      header: {ports: {out: {pickup: {kind: fine-pore}}}}

Good::

    tanks:
      main: {ports: {feed: {pickup: {kind: fine-pore, swings: yes}}}}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.checks.words import listed
from plumbing.network.fuel_ways import strainers_before_pump, whole_ways

SEVERITY = Severity.ADVICE
SOURCE = "common practice"
LIMIT = Limit("2", "count")


def find(case: Case, limit: float) -> Says:
    for engine in case.layout.engines:
        for way in whole_ways(case.survey, engine):
            strainers = strainers_before_pump(case.survey, way)
            if len(strainers) > limit:
                yield Found(
                    way.tank,
                    f"Fuel from {way.tank} passes {len(strainers)} restrictive elements before the "
                    f"pump: {listed(one.words for one in strainers)}; "
                    f"{units.show(limit, 'count')} is the most.",
                    Figure(float(len(strainers)), "count"),
                    Figure(limit, "count"),
                    parts=tuple(dict.fromkeys(one.part for one in strainers)),
                )
