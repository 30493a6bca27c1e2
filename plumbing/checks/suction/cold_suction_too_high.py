"""The suction at the pump inlet is too high somewhere in the range of fuel temperatures.

Why: Cold fuel is two to three times as thick, and suction in narrow tube rises with it.
Cure: Size the suction side for the coldest day, or state a warmer coldest fuel and keep to it.

Bad::

    fuel: {temperature: {coldest: -25 degC}}
    lines:
      screen to pump: {tube: polyurethane 4x2, joint: barb-3, cut-length: 600 mm}

Good::

    lines:
      screen to pump: {tube: polyurethane 6x4, joint: barb-4, cut-length: 95 mm}
"""

from plumbing import units
from plumbing.checks.kit import Case, Limit, Says, Severity
from plumbing.checks.peaks import suction_over, with_costliest

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("15 kPa", "pressure")


def find(case: Case, limit: float) -> Says:
    for peak in case.peak.engines.values():
        when = f"at full flow with fuel at {units.show(peak.coldest.celsius, 'temperature')}"
        for found in suction_over(peak, peak.coldest.suction, limit, when):
            yield with_costliest(peak, found)
