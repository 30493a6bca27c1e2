"""The pump hardly delivers, or does not deliver, the engine's full flow.

Why: Gears wear, batteries sag and filters clog; a pump without margin starves the engine.
Cure: A larger pump, a higher supply voltage, or less resistance between pump and engine.

Bad::

    pumps:
      pump:
        curve:
          - {flow: 0 ml/min, pressure: 500 kPa}
          - {flow: 300 ml/min, pressure: 250 kPa}

Good::

    pumps:
      pump:
        curve:
          - {flow: 0 ml/min, pressure: 700 kPa}
          - {flow: 600 ml/min, pressure: 400 kPa}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.checks.words import called, subject
from plumbing.results import known

SEVERITY = Severity.UNSAFE
SOURCE = "14 CFR 23.955 (2014 text: 125 % for pumped piston systems), used as an analogy"
LIMIT = Limit("1.25", "ratio")


def find(case: Case, limit: float) -> Says:
    for peak in case.peak.engines.values():
        if peak.pump not in case.layout.pumps:
            continue  # the engine draws for itself
        if not known(peak.flow_available):
            continue
        margin = peak.flow_available / peak.flow
        if margin < limit:
            yield Found(
                peak.pump,
                f"{subject('pump', peak.pump)} delivers "
                f"{units.show(peak.flow_available, 'flow')} into this "
                "system with filters due for change, "
                f"{units.show(margin, 'ratio')} times the "
                f"{units.show(peak.flow, 'flow')} that {called('engine', peak.engine)} takes; "
                f"{units.show(limit, 'ratio')} times is wanted.",
                Figure(margin, "ratio"),
                Figure(limit, "ratio"),
                field="curve",
                parts=(peak.engine,),
            )
