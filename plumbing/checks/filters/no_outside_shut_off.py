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

from plumbing.checks.kit import Case, Found, Lacking, Says, Severity
from plumbing.checks.words import called
from plumbing.network.fuel_ways import valves_on_way, whole_ways

SEVERITY = Severity.UNSAFE
SOURCE = "common practice; national rules of model flying decide"


def find(case: Case, limit: float) -> Says:
    for engine in case.layout.engines:
        ways = [
            [v for v in valves_on_way(case.survey, way) if v.kind == "shut-off"]
            for way in whole_ways(case.survey, engine)
        ]
        wanting = [valves for valves in ways if not any(valve.outside for valve in valves)]
        unsaid = {v.name: None for valves in wanting for v in valves if v.outside is None}
        yield from (Lacking(f"valves.{name}.outside", name) for name in unsaid)
        if any(all(valve.outside is False for valve in valves) for valves in wanting):
            yield Found(
                engine,
                f"No shut-off before {called('engine', engine)} can be worked from outside.",
                parts=tuple({valve.name: None for valves in wanting for valve in valves}),
            )
