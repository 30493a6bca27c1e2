"""A screen on the suction side has too little area.

Why: A small screen clogs in a few flights, and each speck raises the suction.
Cure: Choose an element with at least five times the open area of the line.

Bad::

    filters:
      screen: {area: 30 mm2}

Good::

    filters:
      screen: {area: 130 mm2}
"""

import math

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.pickups import pickups
from plumbing.checks.sides import filters_on, tube_bores_at
from plumbing.checks.words import subject

SEVERITY = Severity.ADVICE
SOURCE = "14 CFR 27.977 (tank outlet strainers: five times the outlet line), used as an analogy"
LIMIT = Limit("5", "ratio")


def find(case: Case, limit: float) -> Says:
    for element in filters_on(case, "suction"):
        if element.area is None:
            yield Lacking(f"filters.{element.name}.area", element.name)
            continue
        line = math.pi / 4.0 * max(tube_bores_at(case, element.name)) ** 2
        who = subject("filter", element.name)
        yield from _small(element.name, who, element.area, line, limit, "area")
    for tank, port, pickup in pickups(case.layout):
        if pickup.area is not None and port.bore is not None:
            line = math.pi / 4.0 * port.bore**2
            who = f"The pickup of {tank.name}.{port.name}"
            yield from _small(tank.name, who, pickup.area, line, limit, "ports")


def _small(part: str, who: str, area: float, line: float, limit: float, field: str) -> Says:
    if area < limit * line:
        what = (
            f"{who} has {units.show(area, 'area')} for a line of {units.show(line, 'area')}; "
            f"{units.show(limit * line, 'area')} are needed."
        )
        yield Found(part, what, Figure(area, "area"), Figure(limit * line, "area"), field)
