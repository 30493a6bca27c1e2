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
from plumbing.checks.kit import Case, Figure, Found, Lacking, Says, Severity
from plumbing.checks.peaks import not_computed
from plumbing.checks.words import subject

SEVERITY = Severity.UNSAFE
SOURCE = "14 CFR 25.955(a) (full flow in each intended condition), used as an analogy"


def find(case: Case, limit: float) -> Says:
    yield from not_computed(case)
    for peak in case.peak.engines.values():
        if peak.head_available is None:
            yield Lacking(f"pumps.{peak.pump}.curve", peak.pump)
        elif peak.head_needed is None:
            yield Lacking(f"engines.{peak.engine}.feed-pressure-full", peak.engine)
        elif peak.head_available < peak.head_needed.value:
            yield Found(
                peak.pump,
                f"{subject('pump', peak.pump)} makes "
                f"{units.show(peak.head_available, 'pressure')} at full "
                f"flow; {units.show(peak.head_needed.value, 'pressure')} are needed.",
                Figure(peak.head_available, "pressure"),
                peak.head_needed,
                field="curve",
                parts=(peak.engine,),
            )
