"""A pump cannot have the full flow of its engine: so much suction draws vapour and air.

Why: Past about 40 kPa of suction a gear pump turns in vapour and in air that leaves the fuel:
the engine gets less than it asks for and flames out at full throttle.
Cure: Widen what costs most on the way from tank to pump; this is no matter of a few percent.

Bad::

    filters: {screen: {clean-drop: 110 kPa, dirty-drop: 200 kPa}}

Good::

    filters: {screen: {clean-drop: 0.6 kPa}}
"""

from plumbing.checks.kit import Case, Figure, Found, Says, Severity
from plumbing.checks.peaks import with_costliest
from plumbing.checks.words import called
from plumbing.physics.pumps import SUCTION_LIMIT
from plumbing.units import show

SEVERITY = Severity.UNSAFE
SOURCE = "common practice; air set free by ASTM D2779 and Henry's law"


def find(case: Case, limit: float) -> Says:
    for peak in case.peak.engines.values():
        if peak.flow_had >= peak.flow:
            continue
        when = peak.hardest
        filters = "" if when.filters == "clean" else f", filters {when.filters}"
        found = Found(
            peak.pump,
            f"Full flow of {called('engine', peak.engine)} would take "
            f"{show(when.suction.value, 'pressure')} of suction at {called('pump', peak.pump)} "
            f"({when.load}, fuel at {show(when.celsius, 'temperature')}{filters}); beyond "
            f"{show(SUCTION_LIMIT, 'pressure')} it draws vapour and air. "
            f"{show(peak.flow_had, 'flow')} of {show(peak.flow, 'flow')} can be had.",
            Figure(peak.flow_had, "flow"),
            Figure(peak.flow, "flow"),
            parts=(peak.engine,),
        )
        yield with_costliest(peak, found)
