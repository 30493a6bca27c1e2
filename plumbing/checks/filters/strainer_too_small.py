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
        if element.area < limit * line:
            yield Found(
                element.name,
                f"{subject('filter', element.name)} has {units.show(element.area, 'area')} for a "
                "line of "
                f"{units.show(line, 'area')}; {units.show(limit * line, 'area')} are needed.",
                Figure(element.area, "area"),
                Figure(limit * line, "area"),
                field="area",
            )
