"""A tank lies in the plane of a rotating disc.

Why: When a wheel bursts its pieces leave in this plane, through whatever holds fuel there.
Cure: Move the tank 30 mm out of the plane, or shield it.

Bad::

    zones: {turbine wheel: {shielded: no, body: {disc: {at: [310 mm, 0 mm, 10 mm]}}}}

Good::

    zones: {turbine wheel: {shielded: no, body: {disc: {at: [1230 mm, 0 mm, 10 mm]}}}}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.model.structure import Disc
from plumbing.network.room import tank_body
from plumbing.network.space import gap_to_plane
from plumbing.units import show

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
LIMIT = Limit("30 mm", "length")


def find(case: Case, limit: float) -> Says:
    for zone in case.layout.zones.values():
        if zone.shielded or not isinstance(zone.body, Disc):
            continue
        allowed = zone.clearance or limit
        for tank in case.layout.tanks.values():
            gap = gap_to_plane(tank_body(tank), zone.body)
            if gap < allowed:
                what = (
                    f"Tank {tank.name} lies {show(gap, 'length')} from the plane of {zone.name}, "
                    f"not {show(allowed, 'length')}."
                )
                figures = Figure(gap, "length"), Figure(allowed, "length")
                yield Found(tank.name, what, *figures, "shape", (zone.name,))
