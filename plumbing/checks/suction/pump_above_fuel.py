"""The pump stands above the lowest fuel it must lift.

Why: The lift is felt with every g pulled: 100 mm cost 0.8 kPa level and 8 kPa at 10 g.
Cure: Mount the pump at or below the bottom of the last tank.

Bad::

    pumps:
      pump: {at: [790 mm, 0 mm, 180 mm]}

Good::

    pumps:
      pump: {at: [790 mm, 0 mm, -20 mm]}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.checks.words import subject

SEVERITY = Severity.FAULT
SOURCE = "common practice; a full-size owner's account of a pump 200 mm above the tank"
LIMIT = Limit("150 mm", "length")

_BETTER = 0.05  # a lift worth avoiding [m]


def find(case: Case, limit: float) -> Says:
    for peak in case.peak.engines.values():
        lift = peak.pump_height
        allowed = limit if lift > limit else min(limit, _BETTER)
        if lift > allowed:
            yield Found(
                peak.pump,
                f"{subject('pump', peak.pump)} stands {units.show(lift, 'length')} above the "
                f"lowest usable fuel; {units.show(allowed, 'length')} is the most it should lift.",
                Figure(lift, "length"),
                Figure(allowed, "length"),
                field="at",
                severity=None if lift > limit else Severity.ADVICE,
            )
