"""So much dissolved air comes out of the fuel that the pump delivers foam.

Why: A gear pump loses flow in the share of gas at its inlet, and bubbles reach the burner.
Cure: Lower the suction: larger bores, fewer restrictions, pump below the fuel.

Bad::

    lines:
      screen to pump: {tube: polyurethane 4x2, joint: barb-3, cut-length: 1200 mm}

Good::

    lines:
      screen to pump: {tube: polyurethane 6x4, joint: barb-4, cut-length: 95 mm}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.checks.words import called

SEVERITY = Severity.FAULT
SOURCE = "common practice on the void share; air content by the form of ASTM D2779, upper bound"
LIMIT = Limit("2 %", "share")


def find(case: Case, limit: float) -> Says:
    for peak in case.peak.engines.values():
        if peak.released.value > limit:
            yield Found(
                peak.pump,
                f"Up to {units.show(peak.released.value, 'share', 2)} of the volume entering "
                f"{called('pump', peak.pump)} at full flow, level, on a usual day, is air set free "
                f"by suction; "
                f"{units.show(limit, 'share', 2)} is bearable.",
                peak.released,
                Figure(limit, "share"),
            )
