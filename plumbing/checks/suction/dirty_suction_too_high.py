"""The suction at the pump inlet is too high once filters and pickups are due for change.

Why: A system that is good when clean stops the engine later, on a cold day, without warning.
Cure: Larger filter elements, an earlier change, or larger bores in the rest of the suction side.

Bad::

    filters:
      screen: {dirty-drop: 25 kPa}

Good::

    filters:
      screen: {dirty-drop: 0.6 kPa}
"""

from plumbing import units
from plumbing.checks.kit import Case, Lacking, Limit, Says, Severity
from plumbing.checks.peaks import suction_over
from plumbing.checks.pickups import pickups
from plumbing.checks.sides import filters_on

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("15 kPa", "pressure")


def find(case: Case, limit: float) -> Says:
    for element in filters_on(case, "suction"):
        if element.dirty_drop is None:
            yield Lacking(f"filters.{element.name}.dirty-drop", element.name)
    for tank, port, pickup in pickups(case.layout):
        if pickup.kind == "fine-pore" and pickup.dirty_drop is None:
            yield Lacking(f"tanks.{tank.name}.ports.{port.name}.pickup.dirty-drop", tank.name)
    for peak in case.peak.engines.values():
        at = units.show(peak.dirty.celsius, "temperature")
        when = f"at full flow with filters and pickups due for change, fuel at {at}"
        yield from suction_over(peak, peak.dirty.suction, limit, when)
