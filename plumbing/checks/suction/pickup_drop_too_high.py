"""A pickup takes too much pressure at full flow.

Why: Felt and mesh are the suction nobody counts, and they clog where nobody looks.
Cure: A larger felt or mesh, a coarser pore, or more frequent cleaning.

Bad::

    tanks:
      main:
        ports:
          feed: {pickup: {kind: fine-pore, swings: yes, clean-drop: 2.5 kPa, dirty-drop: 6 kPa}}

Good::

    tanks:
      main:
        ports:
          feed: {pickup: {kind: fine-pore, swings: yes, clean-drop: 0.4 kPa, dirty-drop: 1 kPa}}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.pickups import pickups

SEVERITY = Severity.ADVICE
SOURCE = "common practice: 1 kPa clean, three times that when due for change"
LIMIT = Limit("1 kPa", "pressure")  # clean


def find(case: Case, limit: float) -> Says:
    for tank, port, pickup in pickups(case.layout):
        if pickup.kind != "fine-pore":
            continue
        states = {"clean": (pickup.clean_drop, limit), "dirty": (pickup.dirty_drop, 3.0 * limit)}
        for state, (drop, allowed) in states.items():
            if drop is None:
                path = f"tanks.{tank.name}.ports.{port.name}.pickup.{state}-drop"
                yield Lacking(path, tank.name)
            elif drop > allowed:
                yield Found(
                    tank.name,
                    f"The pickup at {tank.name}.{port.name} takes {units.show(drop, 'pressure')} "
                    f"{state} at full flow; {units.show(allowed, 'pressure')} are allowed.",
                    Figure(drop, "pressure"),
                    Figure(allowed, "pressure"),
                )
