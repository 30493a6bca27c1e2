"""One thing gone wrong stops every engine of a twin.

Why: Two engines are safer than one only if nothing stops both: a shared tank, header or vent is
a single failure for the aircraft.
Cure: Give each engine a half-system of its own: tank, header, vent, pump, battery.
Over: twin-engine

Bad::

    tanks:
      port main: {ports: {feed: {capped: yes}}}
      starboard main:
        ports:
          second: {at: [340 mm, 80 mm, 70 mm], bore: 4.4 mm, opens-at: [340 mm, 80 mm, -48 mm]}
    lines: {port feed: {from: starboard main.second}}

Good::

    notes: Two half-systems with nothing in common.
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.results import got, known

SEVERITY = Severity.FAULT
SOURCE = "14 CFR 23.953, from memory, used as an analogy"
RESTS_ON = "faults"


def find(case: Case, limit: float) -> Says:
    engines = len(case.layout.engines)
    if engines < 2 or _apart(case):
        return
    faults = got(case.faults)
    for missing in faults.unknown:
        known(missing.why)
    for one in faults.outcomes:
        if len(one.stops) == engines:
            what = f"{one.fault.what}: {one.does}."
            yield Found(one.fault.part.partition(".")[0], what, parts=tuple(one.stops))


def _apart(case: Case) -> bool:
    """Whether no part is joined to two engines: then no single fault can stop both."""
    return all(len(island.engines) <= 1 for island in case.survey.islands)
