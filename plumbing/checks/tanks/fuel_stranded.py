"""A tank keeps fuel that no engine gets.

Why: Stranded fuel is weight without minutes, on the side or at the end where it hurts.
Cure: Chain the tanks, make teed branches alike, or fit fine-pore pickups that hold air back.
Over: teed-pair

Bad::

    tanks:
      port: {ports: {feed: {pickup: {kind: clunk, swings: null, pore: null}}}}
      starboard: {ports: {feed: {pickup: {kind: clunk, swings: null, pore: null}}}}
    lines: {starboard branch: {cut-length: 900 mm}}
    flights: {sport: {phases: [{name: fast, duration: 3 min, throttle: 100 %}]}}

Good::

    lines: {starboard branch: {cut-length: 900 mm}}
    flights: {sport: {phases: [{name: fast, duration: 3 min, throttle: 100 %}]}}
    papers: {timer: 2 min}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.checks.words import called
from plumbing.results import got

SEVERITY = Severity.FAULT
SOURCE = "common practice: tanks in series leave 3 to 7 %, a careless tee 10 to 40 %"
LIMIT = Limit("10 %", "share")


def find(case: Case, limit: float) -> Says:
    flight = got(case.flight)
    first = flight.stops_first
    elsewhere = _beside(case, first)
    ends = f"{called('engine', first)} stops" if first else "the run ends"
    for place, name in enumerate(flight.dry_run.tanks):
        held = float(flight.dry_run.volume[0, place])
        if case.layout.tanks[name].role == "header" or held <= 0.0 or name in elsewhere:
            continue
        parted = sum(one.volume for one in flight.pockets if one.tank == name)
        left = flight.stranded[name] - parted  # of pockets without a pickup another check tells
        if left / held > limit:
            yield Found(
                name,
                f"When {ends}, "
                f"{units.show(left, 'volume', 2)} are still in {name}, "
                f"{units.show(left / held, 'share', 2)} of what it held.",
                Figure(left / held, "share"),
                Figure(limit, "share"),
            )


def _beside(case: Case, engine: str) -> frozenset[str]:
    """Tanks of systems that the engine that stops has nothing to do with."""
    others = [one for one in case.survey.islands if one.engines and engine not in one.engines]
    return frozenset(tank for one in others if engine for tank in one.tanks)
