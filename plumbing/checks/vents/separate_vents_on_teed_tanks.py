"""Tanks that feed through one tee have vents of their own.

Why: A slip pressurises one outlet, and the fuel of one tank is pushed over into the other or
left behind.
Cure: Join the air spaces above the tanks and lead one outlet out.
Over: teed-pair

Bad::



Good::


"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.vent_ways import vent_ways

SEVERITY = Severity.FAULT
SOURCE = "14 CFR 25.975 on fuel tank vents, used as an analogy"


def find(case: Case, limit: float) -> Says:
    vents: dict[str, set[str]] = {}
    for way in vent_ways(case):
        vents.setdefault(way.tank.name, set()).add(way.outlet.name)
    for group in case.survey.order.groups:
        tanks = tuple(name for name in group.tanks if name in vents)
        if len(tanks) > 1 and not set.intersection(*(vents[name] for name in tanks)):
            what = f"Tanks {' and '.join(tanks)} feed together but each has a vent of its own."
            outlets = sorted(set.union(*(vents[name] for name in tanks)))
            yield Found(tanks[0], what, parts=(*tanks[1:], *outlets))
