"""A tube inside a tank is of a metal that corrodes and breaks.

Why: A vent tube broken inside leaves a tank half filled and a pilot with half the fuel, and
nothing shows outside.
Cure: Use stainless tube inside the tank, bent once; look at brass every year.

Bad::

    tanks: {main: {ports: {vent: {tube-material: copper}}}}

Good::

    tanks: {main: {ports: {vent: {tube-material: stainless steel}}}}
"""

from plumbing.checks.kit import Case, Found, Lacking, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "common practice"


BREAKS = ("copper", "aluminium", "aluminum", "acrylic", "polystyrene", "pvc", "abs")
AGES = ("brass",)


def find(case: Case, limit: float) -> Says:
    for tank in case.layout.tanks.values():
        for port in tank.ports.values():
            material = (port.tube_material or "").lower()
            if port.opens_at is not None and not material:
                missing = f"tanks.{tank.name}.ports.{port.name}.tube-material"
                yield Lacking(missing, tank.name)
            elif any(name in material for name in BREAKS + AGES):
                what = f"The tube inside {tank.name} at {port.name} is {material}."
                brass = any(name in material for name in AGES)
                severity = Severity.ADVICE if brass else None
                yield Found(tank.name, what, field="ports", severity=severity)
