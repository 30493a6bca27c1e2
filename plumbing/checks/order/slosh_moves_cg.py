"""Fuel running aft in a half-full tank moves the centre of gravity.

Why: At full thrust the fuel lies in the back of the tank just as the nose is raised.
Cure: Put baffles in long tanks, or foam.

Bad::

    aircraft: {dry-mass: 3 kg, mean-chord: 200 mm}

Good::

    aircraft: {dry-mass: 9.2 kg, mean-chord: 340 mm}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.simulation.balance import lacking, slosh, states
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("2 %", "share")


def find(case: Case, limit: float) -> Says:
    aircraft = case.layout.aircraft
    if aircraft.mean_chord is None:
        yield Lacking("aircraft.mean-chord", "aircraft")
    missing = lacking(case.layout)
    if missing:
        yield Lacking(missing, "aircraft")
    if aircraft.mean_chord is None or missing:
        return
    forward = aircraft.load_factors.forward
    total, worst, name = 0.0, 0.0, ""
    for tank in case.layout.tanks.values():
        if not tank.foam:
            moved = slosh(case.layout, tank, forward)
            total += moved
            if moved > worst:
                worst, name = moved, tank.name
    half = (states(case.layout, case.survey.order.steps)[0].mass + (aircraft.dry_mass or 0.0)) / 2.0
    shift = total / half / aircraft.mean_chord
    if shift > limit:
        what = (
            f"Half full at {show(forward, 'load factor')} forward, slosh moves the centre of "
            f"gravity by {show(shift, 'share')} of the mean chord, most of it in {name}."
        )
        figures = Figure(shift, "share"), Figure(limit, "share")
        yield Found(name, what, *figures, field="baffles")
