"""A tank stands over electronics or a battery.

Why: A tank weeps one day, and fuel in a receiver or between cells ends the flight.
Cure: Move one of the two, or put a tray or a bay drain between them.

Bad::

    tanks: {main: {fixing: {bay-drain: null}}}
    zones:
      receiver: {shielded: no, body: {box: {at: [300 mm, 0 mm, -60 mm]}}}

Good::

    tanks: {main: {fixing: {bay-drain: null}}}
    zones:
      receiver: {shielded: yes, body: {box: {at: [300 mm, 0 mm, -60 mm]}}}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.network.space import stands_over

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for zone in case.layout.zones.values():
        if zone.kind not in ("electronics", "battery") or zone.shielded:
            continue
        for tank in case.layout.tanks.values():
            if tank.fixing.bay_drain is None and stands_over(tank, zone):
                what = f"Tank {tank.name} stands over {zone.name} with no drain between them."
                yield Found(tank.name, what, field="shape", parts=(zone.name,))
