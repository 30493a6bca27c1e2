"""The suction at the pump inlet is too high at full flow.

Why: Dissolved air comes out of the fuel, the pump delivers foam, and the engine stops. From some
7 kPa on the limit lies in the band of what was computed, and it is advice.
Cure: Larger bores, above all in barbs and nipples; shorter lines; fewer filters before the pump.

Bad::

    lines:
      screen to pump: {tube: polyurethane 4x2, joint: barb-3, cut-length: 900 mm}

Good::

    lines:
      screen to pump: {tube: polyurethane 6x4, joint: barb-4, cut-length: 95 mm}
"""

from plumbing.checks.kit import Case, Limit, Says, Severity
from plumbing.checks.peaks import suction_over, with_costliest

SEVERITY = Severity.UNSAFE
SOURCE = "common practice, below the 13.5 kPa at which a marine filter maker reports bubbles"
LIMIT = Limit("10 kPa", "pressure")


def find(case: Case, limit: float) -> Says:
    for peak in case.peak.engines.values():
        for found in suction_over(peak, peak.suction, limit, "at full flow, level, on a usual day"):
            yield with_costliest(peak, found)
