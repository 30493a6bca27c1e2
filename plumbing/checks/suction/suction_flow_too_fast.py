"""Fuel runs too fast through a suction line.

Why: Loss rises with speed, bubbles cannot settle, and each fitting costs its dynamic pressure.
Cure: A tube of the next larger bore.

Bad::

    lines:
      screen to pump: {tube: polyurethane 4x2, joint: barb-3, cut-length: 95 mm}

Good::

    lines:
      screen to pump: {tube: polyurethane 6x4, joint: barb-4, cut-length: 95 mm}
"""

import math

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.checks.words import called
from plumbing.simulation.peak_result import ElementDrop

SEVERITY = Severity.ADVICE
SOURCE = "common practice"
LIMIT = Limit("1 m/s", "speed")


def find(case: Case, limit: float) -> Says:
    fastest: dict[str, ElementDrop] = {}
    for peak in case.peak.engines.values():
        for element in peak.elements:
            if _is_tube(case, element):
                known = fastest.setdefault(element.line, element)
                if element.velocity > known.velocity:
                    fastest[element.line] = element
    for name, element in fastest.items():
        if element.velocity > limit:
            yield Found(
                name,
                f"Fuel runs through {called('line', name)} at "
                f"{units.show(element.velocity, 'speed')} at full "
                f"flow; {units.show(limit, 'speed')} is the most.",
                Figure(element.velocity, "speed"),
                Figure(limit, "speed"),
                field="tube",
            )


def _is_tube(case: Case, element: ElementDrop) -> bool:
    """Whether an element is the plain tube of a line, not a barb or fitting in it."""
    if not element.line or element.part:
        return False
    tube = case.layout.tube_of(case.layout.lines[element.line])
    return math.isclose(element.bore, tube.inside_diameter, rel_tol=1e-6)
