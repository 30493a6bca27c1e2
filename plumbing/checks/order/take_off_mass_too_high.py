"""The aircraft is too heavy for its class with full tanks.

Why: Above the mass of its class it is flown without permission and without insurance.
Cure: Fill less, or build lighter.

Bad::

    aircraft: {dry-mass: 24 kg, max-mass: 25 kg}

Good::

    aircraft: {dry-mass: 9.2 kg, max-mass: 25 kg}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Says, Severity
from plumbing.simulation.balance import fuel_mass

SEVERITY = Severity.UNSAFE
SOURCE = "national rules of model flying"


def find(case: Case, limit: float) -> Says:
    aircraft = case.layout.aircraft
    if aircraft.max_mass is None:
        yield Lacking("aircraft.max-mass", "aircraft")
    if aircraft.dry_mass is None:
        yield Lacking("aircraft.dry-mass", "aircraft")
    if aircraft.max_mass is None or aircraft.dry_mass is None:
        return
    flown = [tank for tank in case.layout.tanks.values() if tank.role != "taxi"]
    mass = aircraft.dry_mass + sum(fuel_mass(case.layout, tank) for tank in flown)
    if mass > aircraft.max_mass:
        what = f"With full tanks the aircraft weighs {mass:.4g} kg, not {aircraft.max_mass:.4g} kg."
        figures = Figure(mass, "mass"), Figure(aircraft.max_mass, "mass")
        yield Found("aircraft", what, *figures, field="max_mass")
