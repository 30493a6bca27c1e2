"""A tank is filled to the brim.

Why: Kerosene grows by about a tenth of a percent per degree: 20 degrees warmer is 2 % out of
the vent.
Cure: Stop at 98 % or take a little back, so that the vent tube is not full either.

Bad::

    tanks: {main: {fill: 100 %}}

Good::

    tanks: {main: {fill: 97 %}}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.units import show

SEVERITY = Severity.ADVICE
SOURCE = "14 CFR 23.969 (2014 text: 2 % unless the vent ends clear of the aircraft), an analogy"
LIMIT = Limit("2 %", "share")


ROUNDING = 1e-6


def find(case: Case, limit: float) -> Says:
    for tank in case.layout.tanks.values():
        space = 1.0 - tank.fill
        if tank.role == "main" and space < limit - ROUNDING:
            what = f"Tank {tank.name} is filled to {show(tank.fill, 'share')}."
            yield Found(tank.name, what, Figure(space, "share"), Figure(limit, "share"), "fill")
