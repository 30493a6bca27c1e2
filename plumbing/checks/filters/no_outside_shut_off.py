"""No fuel shut-off can be worked by hand from outside.

Why: With a fire in the tailpipe or a flooded engine, seconds count and no hatch can be opened.
Cure: Fit a shut-off valve that is turned from outside in one marked movement.

Bad::

    valves:
      shut-off: {outside: no}

Good::

    valves:
      shut-off: {outside: yes}
"""

from plumbing.checks.flow_paths import valves_on_way, whole_ways
from plumbing.checks.kit import Case, Found, Lacking, Says, Severity

SEVERITY = Severity.UNSAFE
SOURCE = "Canadian association's turbine guidelines, as posted by a club; national rules decide"


def find(case: Case, limit: float) -> Says:
    for engine in case.layout.engines:
        for way in whole_ways(case, engine):
            valves = [v for v in valves_on_way(case, way) if v.kind == "shut-off"]
            if any(valve.outside for valve in valves):
                continue
            unsaid = [valve.name for valve in valves if valve.outside is None]
            yield from (Lacking(f"valves.{name}.outside", name) for name in unsaid)
            if not unsaid:
                yield Found(
                    engine,
                    f"No shut-off between {way.tank} and {engine} can be worked from outside.",
                    parts=tuple(valve.name for valve in valves),
                )
