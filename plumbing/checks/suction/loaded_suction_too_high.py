"""The suction at the pump inlet is too high in the hardest manoeuvre.

Why: A pump above the fuel must lift it against every g that is pulled, on top of line loss.
Cure: Move the pump to or below the bottom of the last tank; then larger bores.

Bad::

    aircraft: {load-factors: {positive: 12 g}}
    pumps:
      pump: {at: [790 mm, 0 mm, 200 mm]}

Good::

    pumps:
      pump: {at: [790 mm, 0 mm, -20 mm]}
"""

from plumbing import units
from plumbing.checks.kit import Case, Limit, Says, Severity
from plumbing.checks.peaks import suction_over

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
LIMIT = Limit("20 kPa", "pressure")


def find(case: Case, limit: float) -> Says:
    for peak in case.peak.engines.values():
        at = units.show(peak.loaded.celsius, "temperature")
        when = f"at full flow, {peak.loaded.load}, fuel at {at}"
        yield from suction_over(peak, peak.loaded.suction, limit, when)
