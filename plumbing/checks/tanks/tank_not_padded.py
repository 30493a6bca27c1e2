"""A tank is not padded, or padded with foam that soaks fuel up.

Why: A tank chafes through on ply in a season; open foam soaked with kerosene is a wick.
Cure: Pad with closed-cell foam where the tank touches anything.

Bad::

    tanks: {main: {fixing: {padding: open-cell}}}

Good::

    tanks:
      main: {fixing: {padding: closed-cell}}
      header: {fixing: {padding: closed-cell}}
"""

from plumbing.checks.kit import Case, Found, Lacking, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "14 CFR 25.967 on tank pads, used as an analogy"


FAULTS = {
    "none": "Tank {} touches the structure without padding.",
    "open-cell": "Tank {} is padded with open-cell foam.",
}


def find(case: Case, limit: float) -> Says:
    for tank in case.layout.tanks.values():
        padding = tank.fixing.padding
        if padding is None:
            yield Lacking(f"tanks.{tank.name}.fixing.padding", tank.name)
        elif padding in FAULTS:
            yield Found(tank.name, FAULTS[padding].replace("{}", tank.name), field="fixing")
