"""Fuel can run far in a tank without baffles.

Why: A litre running the length of a tank at take-off foams, uncovers the pickup and shifts the
balance.
Cure: Fit baffles so that no free length is over 250 mm, or fill the tank with fuel foam.

Bad::

    tanks: {main: {shape: {box: {size: [300 mm, 90 mm, 70 mm]}}}}

Good::

    tanks: {main: {shape: {box: {size: [300 mm, 90 mm, 70 mm]}}, baffles: [{at: 300 mm}]}}
"""

from itertools import pairwise

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Baffle, Tank
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = (
    "common practice; a baffle closes 70 % of the section or more, "
    "as ADR 6.8.2.1.22 asks of road tankers, from memory"
)
LIMIT = Limit("250 mm", "length")


SMALL = 1.5e-3  # m3; in less the fuel has no room to run


MOST_OPEN = 0.30  # share of a baffle; one more open does not hold the fuel back


def find(case: Case, limit: float) -> Says:
    for tank in case.layout.tanks.values():
        mesh = tank_mesh(tank)
        if tank.foam or mesh.volume <= SMALL:
            continue
        low, high = mesh.bounds[:, 0].tolist()
        walls = sorted([low, high, *(min(max(b.at, low), high) for b in _holding(tank))])
        free = max(after - before for before, after in pairwise(walls))
        if free > limit:
            what = f"Fuel can run {show(free, 'length')} in {tank.name} without meeting a baffle."
            figures = Figure(free, "length"), Figure(limit, "length")
            yield Found(tank.name, what, *figures, field="baffles")


def _holding(tank: Tank) -> list[Baffle]:
    """Baffles that hold fuel back, as those do of which nothing else is said."""
    return [one for one in tank.baffles if (one.open_share or 0.0) <= MOST_OPEN]
