"""The hose of a clunk is not locked at its ends.

Why: A clunk that has dropped off shows no sign outside until half the fuel cannot be reached.
Cure: Push the hose over a barb or soldered collar and lock it with wire at both ends.

Bad::

    tanks:
      main:
        ports: {feed: {pickup: {kind: clunk, hose: {length: 200 mm, bore: 4 mm, locked: no}}}}

Good::

    tanks:
      main:
        ports: {feed: {pickup: {kind: clunk, hose: {length: 200 mm, bore: 4 mm, locked: yes}}}}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.pickups import clunk_hoses

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for tank, port, hose in clunk_hoses(case.layout):
        what = f"The hose in {tank.name} at {port.name} is not locked at its ends."
        missing = f"tanks.{tank.name}.ports.{port.name}.pickup.hose.locked"
        fault = Found(tank.name, what, field="ports")
        yield from declared(hose.locked if hose else None, missing, fault)
