"""A pickup does not reach the lowest fuel of its tank.

Why: What it does not reach is carried home every flight, at one end of the aircraft or on one
side.
Cure: Lengthen the hose of the clunk, or move a fixed pickup to the corner the fuel runs to.

Bad::

    tanks: {main: {ports: {feed: {pickup: {reach: 60 mm}}}}}

Good::

    tanks: {main: {ports: {feed: {pickup: {reach: 150 mm}}}}}
"""

import math

import numpy as np

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.pickups import pickup_ends
from plumbing.geometry.pockets import pockets
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Tank
from plumbing.physics.arrays import Array
from plumbing.simulation.levels import down_at
from plumbing.simulation.room import HOLLOW, room_of
from plumbing.simulation.vessel import basin_of
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("10 mm", "length")


_FEW = 0.01  # of a tank, what is not worth a word
ATTITUDES = {"level": 0.0, "nose up 15 degrees": 15.0, "nose down 15 degrees": -15.0}


def find(case: Case, limit: float) -> Says:
    down = np.array([down_at(math.radians(pitch)) for pitch in ATTITUDES.values()])
    for tank in case.layout.tanks.values():
        if tank.role == "header":
            continue  # it is never emptied; where it gives air is `header-outlet-in-air`
        if tank.name in case.survey.bags:
            continue  # it folds, and all its fuel comes to the pickup
        ends = []
        for port in tank.ports.values():
            end = pickup_ends(tank, port, down)
            if end is not None:
                ends.append(end)
            elif port.pickup is not None:
                yield Lacking(f"tanks.{tank.name}.ports.{port.name}.pickup.reach", tank.name)
        if not ends:
            continue
        gaps, under = np.array([_over_its_floor(tank, end, down) for end in ends]).swapaxes(0, 1)
        best = gaps.argmin(axis=0)
        gaps, under = (one[best, np.arange(len(down))] for one in (gaps, under))
        worst = int(gaps.argmax())
        left = (1.0 - tank.displaced) * float(under[worst])
        if gaps[worst] > limit and left > _FEW * tank_mesh(tank).volume:
            what = (
                f"{list(ATTITUDES)[worst].capitalize()}, the pickup of {tank.name} stands "
                f"{show(float(gaps[worst]), 'length')} above the lowest corner and leaves "
                f"{show(left, 'volume')}."
            )
            figures = Figure(float(gaps[worst]), "length"), Figure(limit, "length")
            yield Found(tank.name, what, *figures, field="ports")


def _over_its_floor(tank: Tank, end: Array, down: Array) -> tuple[Array, Array]:
    """Height of a pickup (D, 3) [m] over the lowest corner of its pocket, and what is below it."""
    room, every = room_of(tank), np.arange(len(down))
    found = pockets(room.mesh, down, HOLLOW, room.wide)
    basin = basin_of(found, end)
    level = -np.einsum("di,di->d", down, end)
    below, pool = found.below(level, basin, every)
    inside = np.where(found.tree.inside[every, pool], found.tree.low[:, : found.tree.most], np.inf)
    return level - inside.min(axis=1), below
