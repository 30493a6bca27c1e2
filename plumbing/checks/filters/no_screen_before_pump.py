"""Nothing stops coarse dirt before the pump.

Why: One grain of sand or a shred of tube between the gears stops the pump for good.
Cure: Fit a screen of 60 to 150 um before the pump, or a felt or mesh pickup in the tank.

Bad::

    filters:
      screen: {pore: 400 um}

Good::

    filters:
      screen: {pore: 100 um}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.words import called
from plumbing.network.fuel_ways import strainers_before_pump, whole_ways

SEVERITY = Severity.FAULT
SOURCE = "common practice; 14 CFR 25.997 places a filter before the pump, used as an analogy"
LIMIT = Limit("150 um", "length")


def find(case: Case, limit: float) -> Says:
    for engine in case.layout.engines:
        for way in whole_ways(case.survey, engine):
            strainers = strainers_before_pump(case.survey, way)
            if any(one.pore is not None and one.pore <= limit for one in strainers):
                continue
            unknown = [one for one in strainers if one.pore is None]
            yield from (Lacking(f"{one.path}.pore", one.part) for one in unknown)
            if unknown:
                continue
            finest = min((one.pore for one in strainers if one.pore is not None), default=None)
            yield Found(
                way.tank,
                f"Between {way.tank} and the pump of {called('engine', engine)} "
                + ("there is no screen." if finest is None else "the screens are too coarse."),
                None if finest is None else Figure(finest, "length"),
                Figure(limit, "length"),
                parts=(engine, *(one.part for one in strainers)),
            )
