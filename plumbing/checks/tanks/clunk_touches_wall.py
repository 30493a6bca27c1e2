"""A clunk touches the wall it hangs towards.

Why: It sucks itself to the wall and closes, and in the long run it wears a hole.
Cure: Shorten the hose so that the clunk stays 6 mm clear.

Bad::

    tanks: {main: {ports: {feed: {pickup: {kind: clunk, reach: 2 m}}}}}

Good::

    tanks: {main: {ports: {feed: {pickup: {kind: clunk, reach: 60 mm}}}}}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.pickups import clunks
from plumbing.model.meshes import tank_mesh
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("6 mm", "length")


def find(case: Case, limit: float) -> Says:
    for tank, port, pickup in clunks(case.layout):
        if pickup.reach is None:
            missing = f"tanks.{tank.name}.ports.{port.name}.pickup.reach"
            yield Lacking(missing, tank.name)
            continue
        low, high = tank_mesh(tank).bounds[:, 0]
        room = float(max(high - port.at[0], port.at[0] - low))
        gap = room - pickup.reach
        if gap < limit:
            what = (
                f"The clunk of {tank.name} reaches {show(pickup.reach, 'length')} into "
                f"{show(room, 'length')}."
            )
            yield Found(tank.name, what, Figure(gap, "length"), Figure(limit, "length"), "ports")
