"""A check valve stands in a vent.

Why: A vent breathes both ways: in as fuel leaves, out as it is filled and warms. A check valve
stops one of them, and sticks.
Cure: Take it out; keep fuel in with a loop instead.

Bad::

    valves:
      vent check: {kind: check, at: [200 mm, 70 mm, 110 mm], bore: 4 mm, cracking-pressure: 1 kPa}
    lines:
      vent: {to: vent check.in}
      vent tail: {from: vent check.out, to: vent.tube, tube: polyurethane 6x4}

Good::

    lines: {vent: {to: vent.tube}}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.network.vent_ways import vent_ways
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for way in vent_ways(case.survey.network):
        for name in way.parts:
            valve = case.layout.valves.get(name)
            if valve is not None and valve.kind == "check":
                what = f"Check valve {name} stands in the vent of {way.tank.name}."
                cracking = valve.cracking_pressure
                if cracking is not None:
                    what = f"{what[:-1]} and opens only at {show(cracking, 'pressure')}."
                yield Found(name, what, parts=(way.tank.name, way.outlet.name))
