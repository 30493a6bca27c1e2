"""Fuel leaves the overflow before the last tank is full.

Why: Overflow is the sign to stop; where it comes early, the tank behind stays part full.
Cure: Put the outlet on the tank that fills last.
Over: chained-pair

Bad::

    tanks: {starboard: {ports: {vent: {at: [350 mm, 75 mm, 85 mm], bore: 4.4 mm}}}}
    outlets: {near vent: {at: [390 mm, 140 mm, -80 mm], bore: 5 mm}}
    lines: {near vent: {from: starboard.vent, to: near vent.tube, tube: polyurethane 8x5}}

Good::

    tanks: {starboard: {ports: {vent: {at: [350 mm, 75 mm, 85 mm], bore: 4.4 mm, capped: yes}}}}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import called, listed

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for fill in case.survey.fills.values():
        if not fill.order or fill.last_is_overflow:
            continue
        for overflow in fill.overflows:
            if overflow.tank not in fill.last:
                port, last = called("fill port", fill.port), listed(fill.last)
                what = (
                    f"Filling at {port}, fuel leaves outlet {overflow.opening} when "
                    f"{overflow.tank} is full, before {last}."
                )
                yield Found(overflow.opening, what, parts=(overflow.tank, *fill.last))
