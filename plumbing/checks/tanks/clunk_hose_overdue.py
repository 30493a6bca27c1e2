"""The hose of a clunk is older than it should be.

Why: Old hose goes stiff and no longer follows the fuel, or rots off where nobody sees it.
Cure: Renew clunk hose every two seasons at the latest.

Bad::

    tanks:
      main:
        ports: {feed: {pickup: {kind: clunk, hose: {length: 200 mm, bore: 4 mm, age: 4 years}}}}

Good::

    tanks:
      main:
        ports: {feed: {pickup: {kind: clunk, hose: {length: 200 mm, bore: 4 mm, age: 6 months}}}}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.pickups import clunk_hoses
from plumbing.units import show

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
LIMIT = Limit("2 years", "age")


def find(case: Case, limit: float) -> Says:
    for tank, port, hose in clunk_hoses(case.layout):
        if hose is None or hose.age is None:
            yield Lacking(f"tanks.{tank.name}.ports.{port.name}.pickup.hose.age", tank.name)
        elif hose.age > limit:
            what = f"The hose in {tank.name} at {port.name} is {show(hose.age, 'age')} old."
            yield Found(tank.name, what, Figure(hose.age, "age"), Figure(limit, "age"), "ports")
