"""A clunk touches the wall it hangs towards.

Why: It sucks itself to the wall and closes, and in the long run it wears a hole.
Cure: Shorten the hose so that the clunk stays 6 mm clear; if it then misses the corners, lead it in
through the lid.

Bad::

    tanks: {main: {ports: {feed: {at: [180 mm, 0 mm, 25 mm], pickup: {reach: 238 mm}}}}}

Good::

    tanks: {main: {ports: {feed: {at: [300 mm, 0 mm, 60 mm], pickup: {reach: 150 mm}}}}}
"""

import numpy as np

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.pickups import clunks
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Port, Tank
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
        room = _room(tank, port)
        if room is None:
            continue
        gap = room - pickup.reach
        if gap < limit:
            what = (
                f"The clunk of {tank.name} reaches {show(pickup.reach, 'length')} into "
                f"{show(room, 'length')}."
            )
            yield Found(tank.name, what, Figure(gap, "length"), Figure(limit, "length"), "ports")


def _room(tank: Tank, port: Port) -> float | None:
    """Length before a port in an end wall [m]; None for a port in another wall."""
    low, high = tank_mesh(tank).bounds
    at = np.array(port.at)
    beyond = np.minimum(np.abs(at - low), np.abs(high - at))
    if beyond[0] > beyond.min():
        return None
    return float(max(high[0] - at[0], at[0] - low[0]))
