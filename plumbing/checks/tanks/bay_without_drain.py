"""The bay of a tank has no drain at its lowest point, or no ventilation.

Why: A weeping joint fills a closed bay with fuel and vapour beside batteries and servos.
Cure: Drill a 5 mm hole at the lowest point of each bay and let air through.

Bad::

    tanks: {main: {fixing: {bay-drain: 2 mm, bay-vented: no}}}

Good::

    tanks:
      main: {fixing: {bay-drain: 6 mm, bay-vented: yes}}
      header: {fixing: {bay-drain: 6 mm, bay-vented: yes}}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "14 CFR 25.967 on tank bays, used as an analogy; the number is common practice"
LIMIT = Limit("5 mm", "length")


def find(case: Case, limit: float) -> Says:
    for tank in case.layout.tanks.values():
        where, drain = f"tanks.{tank.name}.fixing", tank.fixing.bay_drain
        if drain is None:
            yield Lacking(f"{where}.bay-drain", tank.name)
        elif drain < limit:
            what = f"The bay of {tank.name} drains through only {show(drain, 'length')}."
            figures = Figure(drain, "length"), Figure(limit, "length")
            yield Found(tank.name, what, *figures, field="fixing")
        close = Found(tank.name, f"The bay of {tank.name} is not ventilated.", field="fixing")
        yield from declared(tank.fixing.bay_vented, f"{where}.bay-vented", close)
