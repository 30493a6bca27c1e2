"""A hard mass could strike a tank in a crash.

Why: A battery let go at the nose goes through the tank, and its leads light what comes out.
Cure: Hold batteries so that they stay, or put them ahead of the tank with a former between.

Bad::

    tanks: {main: {fixing: {hard-mass-behind: yes}}}

Good::

    tanks:
      main: {fixing: {hard-mass-behind: no}}
      header: {fixing: {hard-mass-behind: no}}
"""

from plumbing.checks.declared import denied
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "14 CFR 23.967 on retaining fuel in a crash (2014 text), used as an analogy"


def find(case: Case, limit: float) -> Says:
    for tank in case.layout.tanks.values():
        what = f"An unrestrained hard mass could strike {tank.name}."
        missing = f"tanks.{tank.name}.fixing.hard-mass-behind"
        fault = Found(tank.name, what, field="fixing")
        yield from denied(tank.fixing.hard_mass_behind, missing, fault)
