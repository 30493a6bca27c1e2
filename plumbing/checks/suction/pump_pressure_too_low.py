"""The pump cannot make the pressure the engine needs at full flow.

Why: Fuel must enter the engine against its case pressure, through filter, valve and injectors.
Cure: A stronger pump, a higher supply voltage, or less resistance on the pressure side.

Bad::

    engines:
      engine: {feed-pressure-full: 900 kPa}

Good::

    engines:
      engine: {feed-pressure-full: 330 kPa}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Says, Severity
from plumbing.checks.words import subject
from plumbing.results import known

SEVERITY = Severity.UNSAFE
SOURCE = "14 CFR 25.955(a) (full flow in each intended condition), used as an analogy"


def find(case: Case, limit: float) -> Says:
    for peak in case.peak.engines.values():
        if not known(peak.head_available) or not known(peak.head_needed):
            continue
        if peak.head_available < peak.head_needed.value:
            yield Found(
                peak.pump,
                f"{subject('pump', peak.pump)} makes "
                f"{units.show(peak.head_available, 'pressure')} at full "
                f"flow; {units.show(peak.head_needed.value, 'pressure')} are needed with cold "
                "fuel and filters due for change.",
                Figure(peak.head_available, "pressure"),
                peak.head_needed,
                field="curve",
                parts=(peak.engine,),
            )
