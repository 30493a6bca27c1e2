"""The bung or lid of a tank cannot be reached.

Why: What cannot be reached is not looked at: clunk hose and bung age until they fail.
Cure: Cut a hatch over the bung or lid.

Bad::

    tanks: {main: {fixing: {hatch: no}}}

Good::

    tanks: {main: {fixing: {hatch: yes}}, header: {fixing: {hatch: yes}}}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for tank in case.layout.tanks.values():
        what = f"The bung or lid of {tank.name} cannot be reached through a hatch."
        fault = Found(tank.name, what, field="fixing")
        yield from declared(tank.fixing.hatch, f"tanks.{tank.name}.fixing.hatch", fault)
